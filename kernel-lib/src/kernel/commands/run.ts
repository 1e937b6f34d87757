import { existsSync } from "node:fs";
import { basename, join, relative } from "node:path";
import { changeLines, changesBetween, ranWhole } from "../changes.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { dataNamed } from "../files-used.js";
import type { Notebook } from "../notebook.js";
import { readNotebook } from "../notebook-file.js";
import { chapters, projectFolder } from "../project.js";
import type { RanChapter } from "../ran-chapter.js";
import { writeReport } from "../report.js";
import { findingsOf } from "../report-chapter.js";
import { runNotebook } from "../runner.js";
import { complain, say } from "../terminal.js";
import { version } from "../version.js";

const help = `dialbook run [CHAPTER…]   run notebooks top to bottom, each in a fresh kernel

  CHAPTER       a number, a name or a path; all of notebooks/ when left out
  --report      write the report that can be handed on to build/report/
  --save        write the outputs into the notebooks themselves, where every cell ran
  --go-on       go on with the next cell after one has failed
  --timeout S   longest time for one cell, in seconds (default 120)
  --jobs N      kernels at once (default 2)
  --help        this text

What ran is kept in build/notebooks/. The exit code is 1 when a chapter failed.`;

const options = {
  report: { type: "boolean", default: false },
  save: { type: "boolean", default: false },
  "go-on": { type: "boolean", default: false },
  timeout: { type: "string", default: "120" },
  jobs: { type: "string", default: "2" },
} as const;

/** `dialbook run`: the chapters, their findings, the report. */
export const runCommand: Command = {
  summary: "run the chapters top to bottom, write the report",
  help,
  async run(args) {
    const { values, positionals } = readArguments("run", args, options);
    const timeoutSeconds = positive("--timeout", values.timeout);
    const jobs = Math.floor(positive("--jobs", values.jobs));
    const project = projectFolder(process.cwd());
    const paths = chapters(project, positionals, process.cwd());
    const outputFolder = join(project, "build", "notebooks");
    say(
      `running ${paths.length === 1 ? "1 chapter" : `${paths.length} chapters`}, kept in ${relative(process.cwd(), outputFolder)}`,
    );
    const before = new Map(paths.map((path) => [path, lastRun(path, outputFolder)]));
    const signal = stopOnRequest();
    const settings = { outputFolder, timeoutSeconds, goOn: values["go-on"], save: values.save, signal };
    const ran = await inTurns(paths, Math.max(jobs, 1), async (path) =>
      signal.aborted ? undefined : runOne(path, settings),
    );
    const done = ran.filter((chapter) => chapter !== undefined);
    const ranPaths = paths.filter((_, i) => ran[i] !== undefined);
    sayChanges(paths.map((path, i) => ({ before: before.get(path), after: ran[i] })));
    sayFindings(done);
    if (values.report && done.length > 0) {
      const list = writeReport({
        chapters: done,
        folder: join(project, "build", "report"),
        version,
        data: new Map(done.map((chapter, i) => [chapter.name, dataNamed(ranPaths[i] ?? "", chapter.notebook)])),
      });
      say(`\nThe report: ${relative(process.cwd(), list)}`);
      say("To change a reading or a cell and see it at once: npm run dialbook -- open");
    }
    return done.length === paths.length && done.every(({ failure }) => failure === undefined) ? 0 : 1;
  },
};

/** Ctrl-C stops the running cells and keeps what ran; a second one ends everything at once. */
function stopOnRequest(): AbortSignal {
  const stop = new AbortController();
  process.on("SIGINT", () => {
    if (stop.signal.aborted) process.exit(130);
    complain("stopping the running cells, what ran is kept; press Ctrl-C once more to end at once");
    stop.abort();
  });
  return stop.signal;
}

type Settings = Omit<Parameters<typeof runNotebook>[0], "path">;

/** Runs one chapter; what stops it is told at once and does not stop the others. */
async function runOne(path: string, settings: Settings): Promise<RanChapter | undefined> {
  const name = path.replace(/^.*[\\/]|\.ipynb$/g, "");
  try {
    const started = performance.now();
    const seconds = (): string => `${((performance.now() - started) / 1000).toFixed(1)} s`;
    const progress = (cell: number, cells: number): void => say(`${name}  cell ${cell}/${cells}  ${seconds()}`);
    const chapter = await runNotebook({ path, ...settings, progress });
    if (chapter.handOrder !== undefined) say(`${name}  ${chapter.handOrder}`);
    if (chapter.failure === undefined) say(`${name}  done  ${seconds()}`);
    else complain(`${chapter.failure}${settings.save ? "; the notebook itself was left as it was" : ""}`);
    return chapter;
  } catch (error) {
    complain(error instanceof Error ? error.message : String(error));
    return undefined;
  }
}

/** Works through a list, so many at a time; results in the order of the list. */
async function inTurns<T, R>(list: readonly T[], atOnce: number, work: (item: T) => Promise<R>): Promise<R[]> {
  const results: R[] = new Array(list.length);
  const queue = list.entries();
  const worker = async (): Promise<void> => {
    for (const [index, item] of queue) results[index] = await work(item);
  };
  await Promise.all(Array.from({ length: Math.min(atOnce, list.length) }, worker));
  return results;
}

/** What the chapter showed when it last ran whole here, or as it is kept in the notebook itself. */
function lastRun(path: string, outputFolder: string): Notebook | undefined {
  for (const file of [join(outputFolder, basename(path)), path]) {
    try {
      const kept = existsSync(file) ? readNotebook(file) : undefined;
      if (kept && ranWhole(kept)) return kept;
    } catch {
      // what can't be read now is told when the chapter itself is read
    }
  }
  return undefined;
}

function sayChanges(runs: readonly { before: Notebook | undefined; after: RanChapter | undefined }[]): void {
  const lines = runs.flatMap(({ before, after }) =>
    before && after ? changeLines(after.title, changesBetween(before, after.notebook)) : [],
  );
  if (lines.length > 0) say(["\nChanged since the last run:", ...lines].join("\n"));
}

function sayFindings(ran: readonly RanChapter[]): void {
  const rows = ran.map((chapter) => ({ chapter, found: findingsOf(chapter) })).filter(({ found }) => found.length > 0);
  if (rows.length === 0) return;
  say("\nWhat the chapters found:");
  for (const { chapter, found } of rows) say([chapter.title, ...found.map((text) => `  ${text}`)].join("\n"));
}

function positive(option: string, text: string): number {
  const value = Number(text);
  if (!(value > 0 && value <= 86_400)) throw new UsageError(`run: ${option} "${text}" is not a number above 0`);
  return value;
}
