import { hairline, ink, softInk } from "../frame.js";
import type { PathLayout } from "../path-layout.js";
import type { Box } from "../plan-layout.js";
import { planeAxes, planeEdges, toX, toY } from "./plane-axes.js";
import { closedPath, element, label, line, stillFrame } from "./svg.js";

const dashes = ["6 4", "1.5 3", "7 3 1.5 3"];
const boldFront = { fill: ink, "font-size": 13, "font-weight": 700 };

/** The way of the cutter as a still picture. */
export function stillPath(path: PathLayout): string {
  const picture = [
    onTheTable(path),
    ways(path),
    screws(path),
    faults(path),
    planeAxes(path),
    planeEdges(path, boldFront),
  ];
  return stillFrame(path.texts, path.alt, path.height, picture.join(""));
}

type Look = { readonly [name: string]: string | number };

function rectangle(path: PathLayout, { u, v }: Box, look: Look): string {
  const [x, y] = [toX(path, u[0]), toY(path, v[1])];
  return element("rect", { x, y, width: toX(path, u[1]) - x, height: toY(path, v[0]) - y, ...look });
}

function circle(path: PathLayout, [u, v]: readonly [number, number], radiusMm: number, look: Look): string {
  const perMm = path.box.width / (path.u.range[1] - path.u.range[0]);
  return element("circle", { cx: toX(path, u), cy: toY(path, v), r: radiusMm * perMm, fill: "none", ...look });
}

function onTheTable(path: PathLayout): string {
  const named = path.obstacles.map(
    (found) =>
      rectangle(path, found, { fill: hairline, stroke: softInk }) +
      label(found.name, toX(path, (found.u[0] + found.u[1]) / 2), toY(path, (found.v[0] + found.v[1]) / 2) + 4, {
        "text-anchor": "middle",
        "font-size": 11,
        fill: softInk,
      }),
  );
  return [
    rectangle(path, path.plate, { fill: "#f1f0ec", stroke: ink, "stroke-width": 1.5 }),
    ...named,
    ...path.outlines.map((found) =>
      rectangle(path, found, { fill: "none", stroke: softInk, "stroke-dasharray": dashes[found.dash]! }),
    ),
    path.cutter ? circle(path, path.cutter.at, path.cutter.radius, { stroke: ink, "stroke-dasharray": "1.5 3" }) : "",
  ].join("");
}

function ways(path: PathLayout): string {
  const rapids = path.rapids.map(([a, b]) =>
    line(toX(path, a[0]), toY(path, a[1]), toX(path, b[0]), toY(path, b[1]), softInk, 0.6),
  );
  const feeds = path.feeds.map(([a, b]) => {
    const [x1, y1, x2, y2] = [toX(path, a[0]), toY(path, a[1]), toX(path, b[0]), toY(path, b[1])];
    return line(x1, y1, x2, y2, ink, 1.4) + arrowHead(x1 + 0.55 * (x2 - x1), y1 + 0.55 * (y2 - y1), x2 - x1, y2 - y1);
  });
  return [...rapids, ...feeds].join("");
}

function arrowHead(x: number, y: number, dx: number, dy: number): string {
  const size = Math.hypot(dx, dy);
  if (!(size > 0)) return "";
  const [a, b] = [(6 * dx) / size, (6 * dy) / size];
  return element("path", {
    d: closedPath([
      [x, y],
      [x - a - b / 2, y - b + a / 2],
      [x - a + b / 2, y - b - a / 2],
    ]),
    fill: ink,
  });
}

const halo = { "paint-order": "stroke", stroke: "#f1f0ec", "stroke-width": 5, "stroke-linejoin": "round" };

function screws(path: PathLayout): string {
  return path.screws
    .map(({ at, radius, label: name }) => {
      const [x, y] = [toX(path, at[0] + radius) + 3, toY(path, at[1]) + 3.5];
      return (
        circle(path, at, radius, { stroke: ink, fill: "#ffffff" }) + label(name, x, y, { "font-size": 10, ...halo })
      );
    })
    .join("");
}

function faults(path: PathLayout): string {
  return path.faults
    .map(({ at, text }) => {
      const [x, y] = [toX(path, at[0]), toY(path, at[1])];
      const cross = line(x - 5, y - 5, x + 5, y + 5, ink, 2) + line(x - 5, y + 5, x + 5, y - 5, ink, 2);
      return cross + label(text, x, y - 8, { "text-anchor": "middle", "font-size": 10 });
    })
    .join("");
}
