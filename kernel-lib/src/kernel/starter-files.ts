import { existsSync, rmSync } from "node:fs";
import { join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import type { StarterAnswers } from "./starters/answers.js";
import { begin } from "./starters/index.js";
import type { Begun } from "./starters/work.js";
import { writeWhole } from "./whole-file.js";

/** The files of a new piece of work and where they go in a project. */
export class StarterFiles {
  private constructor(
    private readonly project: string,
    private readonly name: string,
    readonly made: Begun & { readonly notebook: string },
  ) {}

  /** @throws MeasurementError `new` for an answer that can't be read */
  static from(project: string, answers: StarterAnswers): StarterFiles {
    return new StarterFiles(project, answers.name, begin(answers));
  }

  /** below the project, with forward strokes; the first sheet is the one to begin with */
  get paths(): { readonly notebook: string; readonly sheets: readonly string[]; readonly paper: string } {
    const { name } = this;
    const sheets = this.made.sheets.map(({ suffix }) => `data/${name}${suffix}.csv`);
    return { notebook: `notebooks/${name}.ipynb`, sheets, paper: `data/${name}-paper.html` };
  }

  /** Writes all of them or none, and none in the place of another. @throws MeasurementError `taken` */
  write(): void {
    const { notebook, sheets, paper } = this.paths;
    const files = [
      [notebook, this.made.notebook] as const,
      ...sheets.map((path, i) => [path, this.made.sheets[i]!.text] as const),
      [paper, this.made.paper] as const,
    ].map(([path, content]) => [join(this.project, path), content] as const);
    const [taken] = files.filter(([path]) => existsSync(path));
    if (taken !== undefined) {
      throw new MeasurementError("taken", `new: ${taken[0]} is there already; choose another name, nothing was made`);
    }
    try {
      for (const [path, content] of files) writeWhole(path, content);
    } catch (error) {
      for (const [path] of files) if (existsSync(path)) rmSync(path);
      throw error;
    }
  }
}
