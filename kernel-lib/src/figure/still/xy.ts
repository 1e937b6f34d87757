import { hairline, ink, softInk } from "../frame.js";
import { bracketX, wordsOf, type XyBracket, type XyPlan, type XySeries, xyRoom } from "../xy-plan.js";
import { closedPath, element, label, line, stillFrame } from "./svg.js";

/** Values against a coordinate as a still picture. */
export function stillXy(plan: XyPlan): string {
  const { left, top, width, height } = plan.box;
  const bottom = top + height;
  const place: Place = {
    x: (x) => left + ((x - plan.xRange[0]) / (plan.xRange[1] - plan.xRange[0])) * width,
    y: (y) => top + (1 - (y - plan.yRange[0]) / (plan.yRange[1] - plan.yRange[0])) * height,
  };
  const grid = plan.yTicks.map(({ at, text }) => {
    const y = place.y(at);
    return (
      line(left, y, left + width, y, hairline) + label(text, left - 6, y + 4, { "font-size": 11, "text-anchor": "end" })
    );
  });
  const across = plan.xTicks.map(({ at, text }) => {
    const x = place.x(at);
    return (
      line(x, bottom, x, bottom + 4, softInk) +
      label(text, x, bottom + 16, { "font-size": 11, "text-anchor": "middle" })
    );
  });
  const middle = { x: left - 48, y: top + height / 2 };
  const axes = [
    line(left, top, left, bottom, softInk),
    line(left, bottom, left + width, bottom, softInk),
    label(plan.texts.axes[0]!, left + width / 2, bottom + 34, { "text-anchor": "middle" }),
    label(plan.texts.axes[1]!, middle.x, middle.y, { "text-anchor": "middle", transform: upright(middle.x, middle.y) }),
  ];
  const bands = plan.series.filter(({ band }) => band).map((series) => bandOf(series, place));
  const drawn = plan.series.map((series) => seriesOf(series, place));
  const brackets = plan.brackets.map((bracket) => bracketOf(bracket, plan, place));
  const picture = [...grid, ...across, ...bands, ...drawn, ...axes, ...brackets].join("");
  return stillFrame(plan.texts, plan.alt, plan.height, picture);
}

interface Place {
  x(x: number): number;
  y(y: number): number;
}

function bandOf({ points, colour }: XySeries, place: Place): string {
  const upper = points.map(({ x, y, high = y }) => [place.x(x), place.y(high)] as const);
  const lower = points.map(({ x, y, low = y }) => [place.x(x), place.y(low)] as const);
  return element("path", { d: closedPath([...upper, ...lower.reverse()]), fill: colour, "fill-opacity": 0.14 });
}

function seriesOf({ points, sign, colour, line: style }: XySeries, place: Place): string {
  const path = points.map(({ x, y }) => `${place.x(x).toFixed(1)},${place.y(y).toFixed(1)}`).join(" ");
  const dash = style === "dash" ? { "stroke-dasharray": "6 4" } : {};
  const stroke =
    style === "none"
      ? ""
      : element("polyline", { points: path, fill: "none", stroke: colour, "stroke-width": 1.5, ...dash });
  return stroke + points.map(({ x, y }) => signAt(sign, place.x(x), place.y(y), colour)).join("");
}

function signAt(sign: XySeries["sign"], x: number, y: number, fill: string): string {
  if (sign === "none") return "";
  if (sign === "circle") return element("circle", { cx: x, cy: y, r: 2.8, fill });
  const turn = sign === "up" ? -1 : 1;
  const corners = [
    [x, y + turn * 4.2],
    [x + 3.9, y - turn * 2.8],
    [x - 3.9, y - turn * 2.8],
  ] as const;
  return element("path", { d: closedPath(corners), fill });
}

function bracketOf(bracket: XyBracket, plan: XyPlan, place: Place): string {
  const { from, to, beside } = bracket;
  const right = plan.box.left + plan.box.width;
  const at = beside === undefined ? place.x(bracketX(bracket, plan)) : right + 12 + beside * xyRoom.column;
  const [y1, y2] = [place.y(from), place.y(to)];
  const end = (y: number) => line(at - 3, y, at + 3, y, ink, 1.5);
  const words = beside === undefined ? levelWords(bracket, plan, place) : uprightWords(bracket, at + 12, (y1 + y2) / 2);
  return line(at, y1, at, y2, ink, 2) + end(y1) + end(y2) + words;
}

function levelWords(bracket: XyBracket, plan: XyPlan, place: Place): string {
  const { x, y, side, anchor } = wordsOf(bracket, plan);
  const text = { x: place.x(x), y: place.y(y) + (side === "above" ? -8 : 17) };
  return label(bracket.label, text.x, text.y, { "font-size": 11, "text-anchor": anchor });
}

function uprightWords({ label: words }: XyBracket, x: number, y: number): string {
  return label(words, x, y, { "font-size": 11, "text-anchor": "middle", transform: upright(x, y) });
}

function upright(x: number, y: number): string {
  return `rotate(-90 ${x.toFixed(1)} ${y.toFixed(1)})`;
}
