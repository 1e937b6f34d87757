// Builds dist/: CommonJS by the pinned compiler (the `tsc` on the path is the older one of the cells), then one joined
// declaration file, which loads quicker in the first cell than two hundred small ones, then the live page's bundles.
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildPage, sizeLine } from "./page.mjs";

const home = dirname(dirname(fileURLToPath(import.meta.url)));
const require = createRequire(import.meta.url);

/** newest change of a folder's files, in ms */
export function newest(folder) {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .reduce((latest, entry) => Math.max(latest, statSync(join(entry.parentPath, entry.name)).mtimeMs), 0);
}

/** true when dist/ is missing or older than src/ or page/ */
export function isStale() {
  const stamp = join(home, "dist", "built.json");
  return (
    !existsSync(stamp) || statSync(stamp).mtimeMs < Math.max(newest(join(home, "src")), newest(join(home, "page")))
  );
}

/** compiles into a folder of its own and swaps it in, so that a failed build leaves the old one whole */
export async function build() {
  const fresh = join(home, `dist-${process.pid}`);
  try {
    run(require.resolve("typescript/bin/tsc"), ["-p", join(home, "tsconfig.json"), "--outDir", fresh]);
    await joinDeclarations(fresh);
    const { sizes } = await buildPage(join(fresh, "page"));
    process.stderr.write(`${sizeLine(sizes)}\n`);
    writeFileSync(join(fresh, "built.json"), `${JSON.stringify({ node: process.version })}\n`);
    const old = join(home, "dist");
    rmSync(old, { recursive: true, force: true });
    renameSync(fresh, old);
  } finally {
    rmSync(fresh, { recursive: true, force: true });
  }
}

async function joinDeclarations(fresh) {
  const { rollup } = await import("rollup");
  const { dts } = await import("rollup-plugin-dts");
  const bundle = await rollup({ input: join(fresh, "index.d.ts"), plugins: [dts({ respectExternal: false })] });
  const { output } = await bundle.generate({ format: "es" });
  for (const entry of readdirSync(fresh, { withFileTypes: true, recursive: true })) {
    if (entry.isFile() && entry.name.endsWith(".d.ts")) rmSync(join(entry.parentPath, entry.name));
  }
  writeFileSync(join(fresh, "index.d.ts"), nameable(unalias(output[0].code)));
}

/** A namespace of the joined file names its members by way of `declare const alias: typeof member`, which hides the
 * member's documentation from hover; this names the member itself. */
function unalias(code) {
  const target = new Map();
  const kept = code.split("\n").filter((line) => {
    const found = /^(?:declare const|type) ([\w$]+_d[\w$]*?_[\w$]+)(?:<.*>)?(?:: typeof| =) ([\w$]+)(?:<.*>)?;$/.exec(
      line,
    );
    if (found) target.set(found[1], found[2]);
    return !found;
  });
  return kept
    .join("\n")
    .replace(/\b([\w$]+_d[\w$]*?_[\w$]+) as ([\w$]+)/g, (all, alias, name) =>
      target.has(alias) ? `${target.get(alias)} as ${name}` : all,
    );
}

/** A cell that keeps a result needs a name for its type: every type declared here is exported, types only, also those
 * whose values are reached through a namespace. */
function nameable(code) {
  const declared = [...code.matchAll(/^(?:declare (?:abstract )?class|interface|type|declare enum) ([\w$]+)/gm)].map(
    (found) => found[1],
  );
  const listed = [...code.matchAll(/^export (?:type )?\{([^}]*)\};?$/gm)].flatMap((found) => found[1].split(","));
  const exported = new Set(listed.map((item) => item.trim().split(" as ").at(-1)));
  const missing = declared.filter((name) => !exported.has(name));
  return missing.length > 0 ? `${code}\nexport type { ${missing.join(", ")} };\n` : code;
}

function run(script, args) {
  try {
    execFileSync(process.execPath, [script, ...args], { cwd: home, stdio: ["ignore", "pipe", "pipe"] });
  } catch (error) {
    throw new Error(`the build stopped:\n${error.stdout}${error.stderr}`);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await build();
