// Writes notebooks/blank-survey.ipynb from the words of `dialbook new`; then `npm run dialbook -- run --save blank-survey`.
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const project = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const load = createRequire(import.meta.url);
const { blankNotebook } = load("../dist/kernel/starter-notebook.js");
const { writeNotebook } = load("../dist/kernel/notebook-file.js");

writeNotebook(join(project, "notebooks", "blank-survey.ipynb"), blankNotebook());
