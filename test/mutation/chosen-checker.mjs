// Stryker gives every mutant of a run to its checkers first. This one lets through those of the sample alone: Stryker
// itself can be told a place in a file, and at one place there are several mutants.
import { readFileSync } from "node:fs";
import { CheckStatus } from "@stryker-mutator/api/check";
import { declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import { keyOf } from "./sample.mjs";

export const notChosen = "not in the sample";

class ChosenChecker {
  async init() {
    this.chosen = new Set(JSON.parse(readFileSync(process.env.DIALBOOK_MUTATION_SAMPLE, "utf8")));
  }

  async group(mutants) {
    return [mutants.map(({ id }) => id)];
  }

  async check(mutants) {
    const verdict = (mutant) =>
      this.chosen.has(keyOf(mutant))
        ? { status: CheckStatus.Passed }
        : { status: CheckStatus.CompileError, reason: notChosen };
    return Object.fromEntries(mutants.map((mutant) => [mutant.id, verdict(mutant)]));
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, "chosen", ChosenChecker)];
