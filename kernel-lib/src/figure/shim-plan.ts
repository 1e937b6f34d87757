import { loosenCautions } from "../facing/cautions.js";
import type { ShimSheet } from "../form/index.js";
import { facingOf } from "../survey/plan-outline.js";
import type { Figure } from "./figure.js";
import { figureLines } from "./options.js";
import { layOutContent } from "./plan-layout.js";
import { planFigure } from "./plan-map.js";
import { scaleText } from "./print-units.js";
import { restated } from "./restated.js";
import { usualFrame } from "./tram-circle.js";

/**
 * The shim sheet as the operator at FRONT sees it: bolts with the thickness that goes under each, cautions below.
 *
 * @example
 * const known = (label) => Measured.from(input.normal({ label, estimate: umPerM(200), standardUncertainty: umPerM(5) }));
 * const bolt = (label, x, y) => ({ label, x: mm(x), y: mm(y) });
 * const sheet = form.shims({ name: "re-tram", what: "column", tilt: { as: "lean", x: known("x"), y: known("y") }, bolts: [bolt("1", 0, 0), bolt("2", 200, 0), bolt("3", 200, 250), bolt("4", 0, 250)], foils: [um(20), um(50)] });
 * figure.shimPlan(sheet).texts.lines[0]?.slice(0, 8) // => "Caution:"
 */
export function shimPlan(sheet: ShimSheet): Figure {
  const { given, stacks, remaining } = sheet;
  const span = (list: readonly number[]) => {
    const [from, to] = [Math.min(...list), Math.max(...list)];
    const rim = 0.2 * Math.max(...extent(stacks));
    return { fromMm: from - rim, toMm: to + rim };
  };
  return planFigure((units) =>
    layOutContent(
      {
        title: `Shims under the ${given.what}: ${given.name}`,
        subtitle: restated(
          `at each bolt its label: thickness of the stack; ${given.tilt.as} that remains along X ${remaining.x.text("um/m")}, along Y ${remaining.y.text("um/m")}`,
          units.system,
        ),
        alt: `Plan of ${stacks.length} bolts of the ${given.what} with the thickness of foil under each, ${given.name}.`,
        facing: facingOf(given.frame ?? usualFrame),
        rim: false,
        outline: {
          table: { x: span(stacks.map(({ x }) => x.in("mm"))), y: span(stacks.map(({ y }) => y.in("mm"))) },
          travel: {},
          slots: [],
          holes: [],
          obstacles: [],
        },
        places: stacks.map(({ label, x, y, thickness }) => ({
          label: `${label}: ${thickness.si > 0 ? scaleText(units.height, thickness.in("um"), 0) : "none"}`,
          xMm: x.in("mm"),
          yMm: y.in("mm"),
        })),
        datums: [],
        visits: [],
        lines: figureLines({
          cautions: [{ title: `before a bolt of the ${given.what} is loosened`, lines: loosenCautions }],
          notes: [
            ...stacks.flatMap(({ label, foils }) =>
              foils.length > 1
                ? [
                    `foils at bolt ${label}: ${foils.map((foil) => scaleText(units.height, foil.in("um"), 0)).join(" + ")}`,
                  ]
                : [],
            ),
            `the stacks stand ${scaleText(units.height, sheet.rock.in("um"), 1)} off one plane`,
          ],
        }),
      },
      units,
    ),
  );
}

function extent(stacks: ShimSheet["stacks"]): readonly [number, number] {
  const range = (list: readonly number[]) => Math.max(...list) - Math.min(...list);
  return [range(stacks.map(({ x }) => x.in("mm"))), range(stacks.map(({ y }) => y.in("mm")))];
}
