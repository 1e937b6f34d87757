import { describe } from "vitest";
import { files, holdChapters, runFast } from "../notebooks/chapter-runs.js";

describe("the other chapters in the real kernel", () =>
  holdChapters(
    files.filter((name) => !runFast.includes(name)),
    180_000,
  ));
