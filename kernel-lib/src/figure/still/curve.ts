import { barColour } from "../bars-plan.js";
import { type CurvePlan, curveRoom } from "../curve-plan.js";
import { figureWidth, frameRoom, hairline, ink, softInk } from "../frame.js";
import { closedPath, element, label, line, stillFrame } from "./svg.js";

/** The curve as a still picture. */
export function stillCurve(plan: CurvePlan): string {
  const { left, right, top, plot } = curveRoom;
  const start = frameRoom(plan.texts).above + top;
  const floor = start + plot;
  const end = figureWidth - right;
  const toX = (x: number) => left + ((x - plan.xRange[0]) / (plan.xRange[1] - plan.xRange[0])) * (end - left);
  const toY = (y: number) => floor - ((y - plan.yRange[0]) / (plan.yRange[1] - plan.yRange[0])) * plot;
  const across = plan.xTicks.map(
    ({ at, text }) =>
      line(toX(at), floor, toX(at), floor + 4, softInk) +
      label(text, toX(at), floor + 16, { "font-size": 11, "text-anchor": "middle" }),
  );
  const up = plan.yTicks.map(
    ({ at, text }) =>
      line(left, toY(at), end, toY(at), hairline) +
      label(text, left - 6, toY(at) + 4, { "font-size": 11, "text-anchor": "end" }),
  );
  const [ax, ay] = [left - 44, start + plot / 2];
  const titles = [
    line(left, floor, end, floor, softInk),
    label(plan.texts.axes[0]!, (left + end) / 2, floor + 34, { "text-anchor": "middle" }),
    label(plan.texts.axes[1]!, ax, ay, { "text-anchor": "middle", transform: `rotate(-90 ${ax} ${ay.toFixed(1)})` }),
  ];
  const { x, low, high } = plan.band;
  const edge = [
    ...x.map((at, i) => [toX(at), toY(high[i]!)] as const),
    ...x.map((at, i) => [toX(at), toY(low[i]!)] as const).reverse(),
  ];
  const band = element("path", { d: closedPath(edge), fill: "#929292", "fill-opacity": "0.35" });
  const curves = plan.curves.map((curve) =>
    element("path", {
      d: `M${curve.x.map((at, i) => `${toX(at).toFixed(1)},${toY(curve.y[i]!).toFixed(1)}`).join("L")}`,
      fill: "none",
      stroke: curve.dashed ? softInk : barColour,
      "stroke-width": "1.6",
      ...(curve.dashed ? { "stroke-dasharray": "6 4" } : {}),
    }),
  );
  const dots = plan.points.map((p) => element("circle", { cx: toX(p.x), cy: toY(p.y), r: "2.5", fill: ink }));
  const middle = (plan.xRange[0] + plan.xRange[1]) / 2;
  const marks = plan.marks.map(({ x: at, text }) => {
    const isRight = at > middle;
    const words = { "font-size": 11, "text-anchor": isRight ? "end" : "start" };
    return (
      element("line", { x1: toX(at), x2: toX(at), y1: start, y2: floor, stroke: ink, "stroke-dasharray": "2 3" }) +
      label(text, toX(at) + (isRight ? -4 : 4), floor - 6, words)
    );
  });
  const picture = [...up, ...across, ...titles, band, ...curves, ...dots, ...marks];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}
