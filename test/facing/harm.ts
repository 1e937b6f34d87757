import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";

/**
 * A second, separate rule for what a text would do: it walks the cutter in small steps over a handful of points of the
 * plate, as a bystander with a stop watch and a rule would, and says the first harm it sees; "" where it sees none.
 * It shares nothing with the replay but the job.
 */
export function harmOf(text: string, job: FacingJob, topMm: (x: number, y: number) => number): string {
  const missing = missingWords(text, job);
  return missing !== "" ? missing : new Bystander(job, topMm).watch(text);
}

/** what has to stand in the text before anything moves */
function missingWords(text: string, job: FacingJob): string {
  const letters = (s: string) => s.replace(/[^A-Za-z]/g, "").toUpperCase();
  const head = text.split(/^G/m)[0]!;
  if (cutCautions.some((caution) => !letters(head).includes(letters(caution)))) return "a caution is gone";
  const code = text.replace(/\([^\n]*\)/g, "");
  const before = code.split(/\n[^\n]*[XYZ]/)[0]!;
  for (const word of ["G17", "G21", "G40", "G80", "G90", "G94", job.workOffset]) {
    if (!new RegExp(`\\b${word}\\b`).test(before)) return `${word} is not stated before the first move`;
  }
  const codes = [...code.matchAll(/[GM]\S*/g)].map(([word]) => word);
  const known = ["G0", "G1", "G4", "G17", "G21", "G40", "G80", "G90", "G94", job.workOffset, "M0", "M3", "M5", "M30"];
  const strange = codes.find((word) => !known.includes(word));
  if (strange !== undefined) return `${strange} does something that was not meant`;
  const bare = /[XYZFSP][+-]?\d+(?![\d.])/.exec(code);
  if (bare) return `${bare[0]} has no decimal point`;
  const odd = code.split(/\s+/).find((word) => word !== "" && !/^(?:[GM]\d+|[XYZFSP]-?\d+\.\d*)$/.test(word));
  if (odd !== undefined) return `${odd} can't be read`;
  return /\bM30\s*$/.test(code) ? "" : "does not end in M30";
}

interface Point {
  readonly x: number;
  readonly y: number;
  height: number;
}

const stepMm = 2;
const slackMm = 0.004;

class Bystander {
  private readonly points: Point[] = [];
  private readonly mm: ReturnType<typeof numbersOf>;
  private where = { x: Number.NaN, y: Number.NaN, z: Number.NaN };
  private rapid = true;
  private feed = 0;
  private turning = false;
  private stopped = false;
  private waited = 0;

  constructor(job: FacingJob, topMm: (x: number, y: number) => number) {
    this.mm = numbersOf(job);
    const { x0, x1, y0, y1 } = this.mm.plate;
    for (let i = 0; i <= 20; i++) {
      for (let j = 0; j <= 14; j++) {
        const [x, y] = [x0 + ((x1 - x0) * i) / 20, y0 + ((y1 - y0) * j) / 14];
        this.points.push({ x, y, height: topMm(x, y) });
      }
    }
  }

  watch(text: string): string {
    for (const line of text.split("\n")) {
      const words = line.replace(/\(.*\)/, "").match(/[A-Z][-+.\d]+/g) ?? [];
      const harm = this.one(new Map(words.map((w) => [w[0]!, Number(w.slice(1))])), words);
      if (harm !== "") return `${line}: ${harm}`;
    }
    const { depths } = this.mm;
    const uncut = this.points.some(({ height }) => height > -depths.at(-1)! + slackMm);
    return uncut ? "part of the plate is left standing" : "";
  }

  private one(word: Map<string, number>, words: readonly string[]): string {
    if (words.includes("G0")) this.rapid = true;
    if (words.includes("G1")) this.rapid = false;
    if (words.includes("M5")) [this.turning, this.stopped] = [false, true];
    if (words.includes("M3")) return this.start(word.get("S"));
    if (words.includes("G4")) this.waited += word.get("P") ?? 0;
    if ((words.includes("M0") || words.includes("M30")) && !this.stopped) return "someone reaches in, it turns";
    if (words.includes("M30") && !(this.where.z > 1)) return "left standing in the plate";
    this.feed = word.get("F") ?? this.feed;
    const moves = ["X", "Y", "Z"].some((axis) => word.has(axis));
    return moves ? this.move(word.get("X"), word.get("Y"), word.get("Z")) : "";
  }

  private start(speed: number | undefined): string {
    [this.turning, this.stopped, this.waited] = [true, false, 0];
    if (speed === undefined) return "nobody knows how fast it turns";
    if (speed > this.mm.greatest) return "turns faster than the cutter bears";
    return Math.abs(speed / this.mm.speed - 1) > 0.05 ? "turns at another speed" : "";
  }

  private move(x: number | undefined, y: number | undefined, z: number | undefined): string {
    const from = this.where;
    const to = {
      x: x === undefined ? from.x : x + this.mm.zero.x,
      y: y === undefined ? from.y : y + this.mm.zero.y,
      z: z ?? from.z,
    };
    this.where = to;
    if (Number.isNaN(from.z) && (x !== undefined || y !== undefined)) return "goes sideways, nobody knows how high";
    const { travel } = this.mm;
    if (to.x < travel.x0 || to.x > travel.x1 || to.y < travel.y0 || to.y > travel.y1)
      return "runs into the end of the travel";
    if (to.z < travel.z0 || to.z > travel.z1) return "runs into the end of the quill";
    if (Number.isNaN(to.x) || Number.isNaN(to.y)) return to.z < this.mm.clear ? "comes down, nobody knows where" : "";
    if (Number.isNaN(from.x) || Number.isNaN(from.y)) return to.z < this.mm.clear ? "goes there low" : "";
    return this.walk(from, to);
  }

  private walk(from: typeof this.where, to: typeof this.where): string {
    const far = Math.hypot(to.x - from.x, to.y - from.y);
    const steps = Math.max(1, Math.ceil(far / stepMm), Math.ceil(Math.abs(to.z - from.z) / 0.5));
    const cut = { left: 0, right: 0 };
    for (let k = 0; k <= steps; k++) {
      const at = (a: number, b: number) => a + ((b - a) * k) / steps;
      const here = { x: at(from.x, to.x), y: at(from.y, to.y), z: at(from.z, to.z) };
      const harm = this.stand(here, from, to, cut);
      if (harm !== "") return harm;
    }
    return !this.mm.climbs && cut.right > 4 * (cut.left + 1) ? "climbs all along" : "";
  }

  private stand(
    here: typeof this.where,
    from: typeof this.where,
    to: typeof this.where,
    cut: { left: number; right: number },
  ): string {
    const { radius, floor, screws, obstacles, depths, holder } = this.mm;
    if (here.z < floor - 1e-9) return "goes through the floor";
    for (const s of screws) {
      if (here.z < s.top + 1e-9 && Math.hypot(here.x - s.x, here.y - s.y) < radius + s.radius) return `hits ${s.label}`;
    }
    for (const o of obstacles) {
      const gap = Math.hypot(Math.max(o.x0 - here.x, 0, here.x - o.x1), Math.max(o.y0 - here.y, 0, here.y - o.y1));
      if (here.z < o.top && gap < radius - 1e-9) return `hits ${o.name}`;
      const part = holder.find((p) => here.z + p.above < o.top - 1e-9 && gap < p.radius - 1e-9);
      if (part) return `${part.name} hits ${o.name}`;
    }
    const pressed = holder.find((p) =>
      this.points.some(({ x, y, height }) => {
        return here.z + p.above < height - 1e-9 && Math.hypot(x - here.x, y - here.y) < p.radius;
      }),
    );
    if (pressed) return `${pressed.name} hits the plate`;
    for (const point of this.points) {
      const [dx, dy] = [point.x - here.x, point.y - here.y];
      if (dx * dx + dy * dy > radius * radius * (1 + 1e-12) || here.z >= point.height - 1e-9) continue;
      const chip = point.height - here.z;
      if (this.rapid) return "goes through the plate in a rapid";
      if (!this.turning) return "pushes a cutter that does not turn";
      if (this.waited < this.mm.spinUp - 1e-9) return "cuts before it is up to speed";
      if (from.x === to.x && from.y === to.y) return "drills down into the plate";
      if (this.feed > 1.05 * this.mm.feed || this.feed < 0.95 * this.mm.feed) return "cuts at another feed";
      if (here.z < -depths.at(-1)! - slackMm) return "cuts too deep";
      if (chip > this.allowed(here.z) + slackMm) return "bites off too much";
      point.height = here.z;
      if (chip < slackMm) continue;
      if ((to.x - from.x) * dy - (to.y - from.y) * dx > 0) cut.left++;
      else cut.right++;
    }
    return "";
  }

  /** the share of depth that belongs to a cut at this height */
  private allowed(z: number): number {
    const depths = [0, ...this.mm.depths];
    const k = depths.findIndex((d) => -z <= d + slackMm);
    return k > 0 ? depths[k]! - depths[k - 1]! : 0;
  }
}

function numbersOf(job: FacingJob) {
  const box = (a: FacingJob["plate"]) => ({
    x0: a.xFrom.in("mm"),
    x1: a.xTo.in("mm"),
    y0: a.yFrom.in("mm"),
    y1: a.yTo.in("mm"),
  });
  return {
    plate: box(job.plate),
    travel: { ...box(job.travel), z0: job.travelZ.from.in("mm"), z1: job.travelZ.to.in("mm") },
    zero: { x: job.zero.x.in("mm"), y: job.zero.y.in("mm") },
    radius: job.cutter.diameter.in("mm") / 2,
    greatest: job.cutter.greatestSpeed.in("1/min"),
    speed: job.speed.in("1/min"),
    feed: job.speed.in("1/min") * job.cutter.teeth * job.feedPerTooth.in("mm"),
    spinUp: job.spinUp.in("s"),
    floor: job.floor.in("mm"),
    clear: job.clearance.in("mm") - 1e-9,
    climbs: job.milling === "climb",
    depths: [...new Set(job.rounds.map((r) => r.depth.in("mm")))],
    screws: job.screws.map((s) => ({
      label: s.label,
      x: s.x.in("mm"),
      y: s.y.in("mm"),
      radius: s.headDiameter.in("mm") / 2,
      top: s.headTop.in("mm") + job.margin.in("mm"),
    })),
    holder: (job.cutter.holder ?? []).map((p) => ({
      name: p.name,
      radius: p.diameter.in("mm") / 2,
      above: p.above.in("mm"),
    })),
    obstacles: (job.obstacles ?? []).map((o) => ({
      name: o.name,
      ...box(o.area),
      top: o.top.in("mm") + job.margin.in("mm"),
    })),
  };
}
