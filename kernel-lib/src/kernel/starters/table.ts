import { durationText } from "../../survey/plan.js";
import { starter } from "../starter.js";
import { starterOptions } from "../starter-answers.js";
import { starterCells } from "../starter-notebook.js";
import { commonKeys, indicatorKeys, type Work } from "./work.js";

/** The table, mapped point by point, and all that follows from it. */
export const tableWork: Work = {
  summary: "a survey of the table, and all that follows from it",
  needs: ["table", "resolution", "error"],
  takes: [...commonKeys, ...indicatorKeys, "table", "pitch", "slot", "passes"],
  begin(answers) {
    const options = starterOptions(answers);
    const { plan, sheet, paper } = starter(options);
    const words = `${plan.places.length} places, ${plan.readings.length} readings, about ${durationText(plan.time)}`;
    return { cells: starterCells(options), sheets: [{ suffix: "", text: sheet, words }], paper };
  },
};
