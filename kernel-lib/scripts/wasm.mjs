// Compiles src/numerics/wasm/dense.as into src/numerics/wasm/bytes.ts. Run by hand after a change of the former: the compiler is no
// dependency, `npx` fetches the version named here.
import { execFileSync } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const compiler = "assemblyscript@0.28.20";
const flags = ["-O3", "--noAssert", "--runtime", "stub", "--importMemory", "--enable", "simd", "--disableWarning"];
const home = fileURLToPath(new URL("../src/numerics/wasm/", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "dense-"));
try {
  copyFileSync(join(home, "dense.as"), join(folder, "dense.ts"));
  const args = ["-y", "-p", compiler, "asc", "dense.ts", ...flags, "-o", "dense.wasm"];
  execFileSync("npx", args, { cwd: folder, stdio: "inherit" });
  const bytes = readFileSync(join(folder, "dense.wasm"));
  const text = `/** dense.as compiled by ${compiler} (scripts/wasm.mjs), ${bytes.length} bytes */\nexport const bytes =\n  "${bytes.toString("base64")}";\n`;
  writeFileSync(join(home, "bytes.ts"), text);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
