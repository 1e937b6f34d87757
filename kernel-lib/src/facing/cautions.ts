/** The cautions that stand in every plan, measurement and decision of the job. They are common practice, no source,
 * and defer to the maker of the machine, to the local rules and to people who are competent. */

const deferring =
  "The machine maker's manual, your local rules and a competent person come before anything printed here; where they differ, they are right.";

const isolation =
  "Isolate the spindle before you reach in or measure: plug out, or main switch locked; an emergency stop is not isolation.";

/** while an indicator in the spindle maps a table or is swept */
export const measuringCautions: readonly string[] = Object.freeze([
  isolation,
  "Turn the spindle by hand only, in neutral; take the indicator, its arm and the drawbar spanner off before power comes back.",
  "Hands out of the way while a powered axis moves: single steps, slow feed, the stop in reach.",
  deferring,
]);

/** while an axis is driven to and fro for a positioning test */
export const axisTestCautions: readonly string[] = Object.freeze([
  "Spindle isolated, tool and drawbar spanner out.",
  "The axis moves under power: hands out while it moves, single steps, the stop in reach, travel limits proven first.",
  deferring,
]);

/** while a vertical axis is driven under an upward pull */
export const pulledHeadCautions: readonly string[] = Object.freeze([
  "Spindle isolated, tool and drawbar spanner out; a soft pad on the table under the nose.",
  "Pull by rated lifting gear with a scale in it, at the lifting point that the maker gives; never above what gear and point are marked for.",
  "A second competent person at the gear; nobody and no hand under the head or in line with the sling.",
  "The axis moves under power: hands out while it moves, single steps, the stop in reach, travel limits proven first.",
  "Let the pull go slowly: the head drops by its play.",
  deferring,
]);

/** while a spindle warms up and is read in between */
export const warmUpCautions: readonly string[] = Object.freeze([
  "No indicator, arm or spanner in or at the spindle while it turns: stop it, isolate it, read, take everything off, then start again.",
  isolation,
  "Guards shut and nobody in reach while it runs; warm parts may burn.",
  deferring,
]);

/** while a plate is cut */
export const cutCautions: readonly string[] = Object.freeze([
  isolation,
  "Drawbar spanner, indicator and arm off before power; eyes protected, no gloves, no rags, sleeves and hair tied back.",
  "Fly cutter: stay below its marked speed, balanced, guarded, nobody in its plane.",
  "Steel screw heads and nuts lie under soft plate: stop at a spark, a bright ring or a change of sound.",
  "Dry run above the work first; first pass in single block, a hand on feed hold; stay with the machine.",
  "Chips by brush with the spindle stopped; no air line; keep chips and cutting fluid out of the counterbores.",
  "Workholding is checked by a second person before the first cut; a heavy plate is lifted with help.",
  deferring,
]);

/** while a head, column, vice, plate or foot is loosened */
export const loosenCautions: readonly string[] = Object.freeze([
  isolation,
  "Before a bolt is loosened, support the head or lower it on a block; use lifting gear and a second competent person.",
  "Loosen one bolt at a time where the maker allows it; no fingers in the gap.",
  deferring,
]);

/** while a local high is stoned or a surface is scraped */
export const stoningCautions: readonly string[] = Object.freeze([
  isolation,
  "Solvent and iron dust: ventilate, no flame, gloves for the solvent only and off before the machine has power.",
  "Old paint may hold lead: do not sand or scrape it dry.",
  deferring,
]);
