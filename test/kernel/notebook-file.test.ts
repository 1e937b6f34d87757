import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { notebookText, parseNotebook, readNotebook, writeNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { refusal } from "../refusal.js";
import { schemaErrors } from "./nbformat-schema.js";
import { scratch } from "./workplace.js";

// written by Python's nbformat 5.7 (nbformat.write): every kind of cell and output
const asJupyterWrites = `{
 "cells": [
  {
   "attachments": {
    "a.svg": {
     "image/svg+xml": [
      "<svg/>"
     ]
    }
   },
   "cell_type": "markdown",
   "id": "a1",
   "metadata": {},
   "source": [
    "# Größe\\n",
    "\\n",
    "text"
   ]
  },
  {
   "cell_type": "code",
   "execution_count": 1,
   "id": "a2",
   "metadata": {
    "tags": [
     "raises-exception"
    ]
   },
   "outputs": [
    {
     "name": "stdout",
     "output_type": "stream",
     "text": [
      "a\\n",
      "b"
     ]
    },
    {
     "data": {
      "application/x+json": {
       "a": "one\\ntwo",
       "b": [
        1
       ]
      },
      "text/plain": [
       "5 µm"
      ]
     },
     "execution_count": 1,
     "metadata": {},
     "output_type": "execute_result"
    },
    {
     "data": {
      "image/png": "AAAA"
     },
     "metadata": {},
     "output_type": "display_data"
    },
    {
     "ename": "E",
     "evalue": "v",
     "output_type": "error",
     "traceback": [
      "t"
     ]
    }
   ],
   "source": [
    "throw 1"
   ]
  }
 ],
 "metadata": {},
 "nbformat": 4,
 "nbformat_minor": 5
}
`;

describe("a notebook file", () => {
  it("as Jupyter writes it is read, and written back to the last byte", () => {
    const notebook = parseNotebook(asJupyterWrites.replace('"AAAA"', '[\n       "AAAA"\n      ]'), "a.ipynb");
    expect(notebook.cells[0]?.source).toBe("# Größe\n\ntext");
    expect(notebookText(notebook)).toBe(asJupyterWrites.replace('"AAAA"', '[\n       "AAAA"\n      ]'));
  });

  it("is valid by the schema of format 4.5", () => {
    const raw = JSON.parse(asJupyterWrites);
    expect(schemaErrors(raw)).toEqual([]);
    expect(schemaErrors(JSON.parse(notebookText(parseNotebook(asJupyterWrites, "a.ipynb"))))).toEqual([]);
    expect(schemaErrors({ ...raw, cells: [{ ...raw.cells[0], cell_type: "note" }] })).not.toEqual([]);
  });

  it("of format 4.0 gets ids for its cells, the same each time and none twice", () => {
    const cell = { cell_type: "markdown", metadata: {}, source: ["same"] };
    const old = JSON.stringify({ cells: [cell, cell], metadata: {}, nbformat: 4, nbformat_minor: 0 });
    const notebook = parseNotebook(old, "a.ipynb");
    expect(new Set(notebook.cells.map(({ id }) => id)).size).toBe(2);
    expect(notebookText(notebook)).toBe(notebookText(parseNotebook(old, "a.ipynb")));
    expect(schemaErrors(JSON.parse(notebookText(notebook)))).toEqual([]);
  });

  it("is written whole or not at all, and leaves nothing beside itself", () => {
    const folder = scratch();
    const path = join(folder, "a.ipynb");
    writeFileSync(path, "old");
    writeNotebook(path, parseNotebook(asJupyterWrites, "a.ipynb"));
    expect(readFileSync(path, "utf8")).toContain('"nbformat_minor": 5');
    expect(readdirSync(folder)).toEqual(["a.ipynb"]);
  });
});

describe("what is no notebook is refused with a sentence:", () => {
  it.each([
    ["notebook-corrupt", '{"cells": [', "a.ipynb: is not a notebook, or is damaged; restore it from a copy"],
    ["notebook-corrupt", "[]", "a.ipynb: is not a notebook, or is damaged; restore it from a copy"],
    [
      "notebook-format",
      '{"nbformat": 3, "worksheets": []}',
      "a.ipynb: notebook format 3 is not read; open it in Jupyter and save it as format 4",
    ],
    [
      "notebook-cell",
      '{"nbformat": 4, "nbformat_minor": 5, "metadata": {}, "cells": [{"cell_type": "note"}]}',
      "a.ipynb: cell 1 is of no known kind; restore it from a copy",
    ],
  ])("%s for %s", (code, text, message) => {
    expect(refusal(() => parseNotebook(text, "a.ipynb"))).toEqual({ code, message });
  });

  it("a file that is not there", () => {
    expect(refusal(() => readNotebook("no/such.ipynb"))).toEqual({
      code: "notebook-missing",
      message: "no/such.ipynb: there is no such notebook; give the path of an .ipynb file",
    });
  });
});
