import { existsSync, rmSync } from "node:fs";
import { join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { type Starter, starter } from "./starter.js";
import { type StarterAnswers, starterOptions } from "./starter-answers.js";
import { writeWhole } from "./whole-file.js";

/** The three files of a new survey and where they go in a project. */
export class StarterFiles {
  private constructor(
    private readonly project: string,
    private readonly name: string,
    readonly made: Starter,
  ) {}

  /** @throws MeasurementError `new` for an answer that can't be read */
  static from(project: string, answers: StarterAnswers): StarterFiles {
    return new StarterFiles(project, answers.name, starter(starterOptions(answers)));
  }

  /** below the project, with forward strokes */
  get paths(): { readonly notebook: string; readonly sheet: string; readonly paper: string } {
    const { name } = this;
    return { notebook: `notebooks/${name}.ipynb`, sheet: `data/${name}.csv`, paper: `data/${name}-paper.html` };
  }

  /** Writes all of them or none, and none in the place of another. @throws MeasurementError `taken` */
  write(): void {
    const { notebook, sheet, paper } = this.paths;
    const files = [
      [join(this.project, notebook), this.made.notebook],
      [join(this.project, sheet), this.made.sheet],
      [join(this.project, paper), this.made.paper],
    ] as const;
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
