import { expect, it } from "vitest";
import { fromHere } from "../../kernel-lib/src/kernel/from-here.js";

it("says the way from here, and the whole path where that is shorter", () => {
  expect(fromHere("/home/mill/project/sent/a.tgz", "/home/mill/project")).toBe("sent/a.tgz");
  expect(fromHere("/home/mill/a.tgz", "/home/mill/project")).toBe("../a.tgz");
  expect(fromHere("/home/mill/project", "/home/mill/project")).toBe(".");
  expect(fromHere("sent/../a.tgz", "/home/mill/project")).toBe("a.tgz");
  expect(fromHere("/mnt/a.tgz", "/home/mill/project")).toBe("/mnt/a.tgz");
});
