import type { TrialProgress } from "./trials.js";

/** makes a progress handle for so many trials */
export type ProgressMaker = (total: number, label: string) => TrialProgress;

/** member of a budget through which the display folder lends it a progress handle; absent on a bare import */
export const trialProgress: unique symbol = Symbol("progress of trials");
