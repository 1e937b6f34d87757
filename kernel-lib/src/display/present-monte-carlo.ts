import type { Kind } from "../quantity/kinds.js";
import type { JointMonteCarlo, MonteCarlo } from "../uncertainty/index.js";
import { sentencePresenter } from "./present.js";

export const presentMonteCarlo = sentencePresenter<MonteCarlo<Kind>>();
export const presentJointMonteCarlo = sentencePresenter<JointMonteCarlo<{ readonly [name: string]: Kind }>>();
