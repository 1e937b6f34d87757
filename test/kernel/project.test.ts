import { mkdirSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { expect, it } from "vitest";
import { chapters, projectFolder } from "../../kernel-lib/src/kernel/project.js";
import { refusal } from "../refusal.js";
import { scratch } from "./workplace.js";

const folder = scratch();
mkdirSync(join(folder, "notebooks", "deep"), { recursive: true });
for (const name of ["10-last", "02-form", "01-before", "_draft", "blank", "02-form-b"]) {
  writeFileSync(join(folder, "notebooks", `${name}.ipynb`), "{}");
}
writeFileSync(join(folder, "01-before.ipynb"), "{}");
const names = (...named: string[]) => chapters(folder, named, folder).map((path) => basename(path, ".ipynb"));

it("takes all chapters in the order of their numbers, without the starter and drafts", () => {
  expect(names()).toEqual(["01-before", "02-form", "02-form-b", "10-last"]);
});

it("takes a chapter by number, name or path, a starter or draft too when it is named", () => {
  expect(names("10", "02-form", "blank")).toEqual(["10-last", "02-form", "blank"]);
  expect(chapters(folder, ["01-before.ipynb"], folder)).toEqual([join(folder, "01-before.ipynb")]);
});

it("finds the project from any folder below it", () => {
  expect(projectFolder(join(folder, "notebooks", "deep"))).toBe(folder);
});

it("refuses what names no chapter, more than one, or one twice", () => {
  expect(refusal(() => names("7"))).toEqual({
    code: "chapter",
    message: `run: "7" names no notebook; give a path, a chapter's number or its name`,
  });
  expect(refusal(() => names("01-befor2")).message).toBe(
    `run: "01-befor2" names no notebook, the nearest is "01-before"; give a path, a chapter's number or its name`,
  );
  expect(refusal(() => chapters(folder, ["nope"], folder, "pictures")).message).toBe(
    `pictures: "nope" names no notebook; give a path, a chapter's number or its name`,
  );
  expect(refusal(() => names("02")).message).toBe(
    `run: "02" may be 02-form.ipynb or 02-form-b.ipynb; give a path, a chapter's number or its name`,
  );
  expect(refusal(() => names("01", "01-before.ipynb")).message).toBe(
    "run: two chapters are called 01-before.ipynb; take them one at a time",
  );
  mkdirSync(join(folder, "empty", "notebooks"), { recursive: true });
  expect(refusal(() => chapters(join(folder, "empty"), [], folder)).code).toBe("no-chapters");
});
