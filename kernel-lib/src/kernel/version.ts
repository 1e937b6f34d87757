import { readFileSync } from "node:fs";
import { join } from "node:path";

/** Version of the package, from its own package.json. */
export const version = (
  JSON.parse(readFileSync(join(__dirname, "..", "..", "package.json"), "utf8")) as { readonly version: string }
).version;
