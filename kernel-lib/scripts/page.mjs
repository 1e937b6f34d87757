// Bundles the live page: one script and one style sheet for each entry of page/, and a manifest with their sizes.
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const home = dirname(dirname(fileURLToPath(import.meta.url)));
const pages = ["notebook", "list", "sheet"];
/** scripts that a page asks for when it needs them */
const parts = ["formulas"];

/** Packages that the widgets name but that nothing on this page reaches: languages of other kernels, the checking of
 * settings against a schema (it would need `eval`), and an icon font. What would be called is replaced by nothing. */
const leftOut = [
  /^@codemirror\/legacy-modes\//,
  /^@codemirror\/lang-(cpp|css|java|json|php|python|rust|sql|wast|xml)$/,
  /^@fortawesome\//,
  /^ajv/,
];

/** What is loaded at each opening, and costs time there, although no one sees it on this page. */
const standIns = {
  // what the shared text model tells the authors of widgets, a hundred lines at each opening
  "lib0/logging": () =>
    ["BOLD", "ORANGE", "RED", "UNBOLD"].map((name) => `export const ${name} = "";`).join("") +
    "export const print = () => {}; export const warn = () => {};",
  // buttons of toolbars that are hidden here, with a system of colours worked out for each
  "@jupyter/react-components": () =>
    ["Button", "Search", "TreeItem", "TreeView"].map((name) => `export const ${name} = () => null;`).join(""),
  "@jupyter/web-components": () =>
    `${["addJupyterLabThemeChangeListener", "jpButton", "jpToolbar"].map((name) => `export const ${name} = () => {};`).join("")}
    export const provideJupyterDesignSystem = () => ({ register: () => {} });`,
  // a maker of parsers, for the empty grammar of plain text alone: that parser is made now
  "@lezer/generator": async () => {
    const { buildParserFile } = await import("@lezer/generator");
    return `${buildParserFile("@top Program { }").parser}\nexport const buildParser = () => parser;`;
  },
};

const absent = {
  name: "absent",
  setup(build) {
    for (const filter of leftOut) {
      build.onResolve({ filter }, (found) =>
        // the HTML that a Markdown cell may hold is coloured with the style language
        found.importer.includes("lang-html") ? undefined : { path: found.path, namespace: "absent" },
      );
    }
    const named = new RegExp(`^(${Object.keys(standIns).join("|")})$`);
    build.onResolve({ filter: named }, (found) => ({ path: found.path, namespace: "stand-in" }));
    build.onLoad({ filter: /.*/, namespace: "stand-in" }, async (found) => ({
      contents: await standIns[found.path](),
      loader: "js",
      resolveDir: home,
    }));
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
  const present = [...pages, ...parts].filter((name) => existsSync(join(home, "page", `${name}.ts`)));
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
  const scripts = Object.fromEntries(
    pages
      .filter((name) => present.includes(name))
      .map((name) => [name, { script: `${name}.js`, style: `${name}.css` }]),
  );
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
