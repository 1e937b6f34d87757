// Bundles the live page: one script and one style sheet for each entry of page/, and a manifest with their sizes.
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const home = dirname(dirname(fileURLToPath(import.meta.url)));
const entries = ["notebook", "list", "sheet"];

/** Packages that the widgets name but that nothing on this page reaches: languages of other kernels, the checking of
 * settings against a schema (it would need `eval`), and an icon font. What would be called is replaced by nothing. */
const leftOut = [
  /^@codemirror\/legacy-modes\//,
  /^@codemirror\/lang-(cpp|css|java|json|php|python|rust|sql|wast|xml)$/,
  /^@fortawesome\//,
  /^ajv/,
];

const silent =
  ["BOLD", "ORANGE", "RED", "UNBOLD"].map((name) => `export const ${name} = "";`).join("") +
  "export const print = () => {}; export const warn = () => {};";

const absent = {
  name: "absent",
  setup(build) {
    for (const filter of leftOut) {
      build.onResolve({ filter }, (found) =>
        // the HTML that a Markdown cell may hold is coloured with the style language
        found.importer.includes("lang-html") ? undefined : { path: found.path, namespace: "absent" },
      );
    }
    // what the shared text model tells the authors of widgets, a hundred lines at each opening
    build.onResolve({ filter: /^lib0\/logging$/ }, (found) => ({ path: found.path, namespace: "silent" }));
    build.onLoad({ filter: /.*/, namespace: "silent" }, () => ({ contents: silent, loader: "js" }));
    build.onLoad({ filter: /.*/, namespace: "absent" }, (found) =>
      found.path.endsWith(".css")
        ? { contents: "", loader: "css" }
        : { contents: "module.exports = {};", loader: "js" },
    );
    // the widgets' style sheets write their package imports the way of another bundler
    build.onResolve({ filter: /^~/ }, (found) =>
      build.resolve(found.path.slice(1), { resolveDir: found.resolveDir, kind: found.kind, importer: found.importer }),
    );
  },
};

/** bundles into a folder and returns the sizes of what the page loads */
export async function buildPage(folder) {
  const esbuild = await import("esbuild");
  mkdirSync(folder, { recursive: true });
  const present = entries.filter((name) => existsSync(join(home, "page", `${name}.ts`)));
  const result = await esbuild.build({
    entryPoints: present.map((name) => join(home, "page", `${name}.ts`)),
    outdir: folder,
    bundle: true,
    minify: true,
    format: "iife",
    target: ["chrome109", "firefox115", "safari16.4"],
    define: { "process.env.NODE_ENV": '"production"', "process.env": "{}", global: "globalThis" },
    loader: { ".svg": "text", ".woff2": "file", ".woff": "empty", ".ttf": "empty", ".eot": "empty", ".md": "text" },
    assetNames: "[name]",
    publicPath: "/asset",
    legalComments: "none",
    metafile: true,
    logLevel: "silent",
    plugins: [absent],
    tsconfig: join(home, "page", "tsconfig.json"),
  });
  const sizes = Object.fromEntries(Object.keys(result.metafile.outputs).map((file) => sizeOf(folder, basename(file))));
  const scripts = Object.fromEntries(present.map((name) => [name, { script: `${name}.js`, style: `${name}.css` }]));
  writeFileSync(join(folder, "manifest.json"), `${JSON.stringify({ pages: scripts, files: sizes }, null, 1)}\n`);
  return { sizes, metafile: result.metafile };
}

function sizeOf(folder, name) {
  const file = join(folder, name);
  return [name, { bytes: statSync(file).size, gzip: gzipSync(readFileSync(file), { level: 9 }).length }];
}

/** one line of the sizes, for the person who builds */
export function sizeLine(sizes) {
  const shown = Object.entries(sizes).filter(([name]) => /\.(js|css)$/.test(name));
  const kb = (bytes) => `${Math.round(bytes / 1000)} kB`;
  return `live page: ${shown.map(([name, size]) => `${name} ${kb(size.bytes)} (gzip ${kb(size.gzip)})`).join(", ")}`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { sizes, metafile } = await buildPage(join(home, "dist", "page"));
  if (process.argv.includes("--parts")) writeFileSync(join(home, "dist", "page.meta.json"), JSON.stringify(metafile));
  process.stdout.write(`${sizeLine(sizes)}\n`);
}
