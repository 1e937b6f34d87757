import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const home = join(__dirname, "..", "..");

/** What computes here: Node, this package and the checksum of its compiled code, and the packages under it. */
export function versionsHere(): { readonly [name: string]: string } {
  const { version, dependencies } = JSON.parse(readFileSync(join(home, "package.json"), "utf8")) as {
    readonly version: string;
    readonly dependencies: { readonly [name: string]: string };
  };
  return {
    Node: process.versions.node,
    system: `${process.platform} ${process.arch}`,
    dialbook: version,
    "dialbook, code": codeSum(),
    ...dependencies,
  };
}

/** the first 16 signs of the SHA-256 over names and texts of the compiled files */
function codeSum(): string {
  const dist = join(home, "dist");
  const sum = createHash("sha256");
  const files = existsSync(dist) ? readdirSync(dist, { recursive: true, encoding: "utf8" }) : [];
  const names = files.map((name) => name.replaceAll("\\", "/")).filter((name) => name.endsWith(".js"));
  for (const name of names.sort()) sum.update(`${name}\n`).update(readFileSync(join(dist, name)));
  return sum.digest("hex").slice(0, 16);
}

/** What is another version here than where an archive was made, one line each. */
export function versionChanges(
  made: { readonly [name: string]: string },
  here: { readonly [name: string]: string },
): readonly string[] {
  const names = [...new Set([...Object.keys(made), ...Object.keys(here)])];
  return names
    .filter((name) => made[name] !== here[name])
    .map((name) => `${name}: ${made[name] ?? "not used"} there, ${here[name] ?? "not used"} here`);
}
