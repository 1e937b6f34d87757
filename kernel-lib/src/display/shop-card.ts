import { chanceText } from "../decision/prediction.js";
import {
  type Bedding,
  CuttingConditions,
  type FacingDepth,
  type HoldDown,
  type ScrewClearance,
} from "../facing/index.js";
import { needPlateFrame } from "../facing/plate.js";
import { holdDownPlan } from "../figure/index.js";
import { MeasurementError } from "../measurement-error.js";
import { type Feed, type Length, mm, type Power, type RotationalSpeed, type Time } from "../quantity/index.js";
import { type Paper, papers, sheetStyle } from "./blank-sheet-style.js";
import { Block } from "./bundle.js";
import { caution } from "./caution.js";
import { Html, html } from "./html.js";
import { fileNameOf, printable } from "./printable.js";
import { cardSteps } from "./shop-card-steps.js";

/** How the plate is cut, as it will be set at the machine. */
export interface CardCut {
  readonly spindleSpeed: RotationalSpeed;
  readonly feed: Feed;
  readonly stepOver: Length;
  readonly passes: number;
  /** below first contact */
  readonly roughDepth: Length;
  /** below the roughed surface, 0.1 mm or more */
  readonly finishDepth: Length;
  /** drawn from the motor, at the most */
  readonly power?: Power;
  /** of the whole program */
  readonly time?: Time;
  /** at cutting speed before the first cut */
  readonly warmUpWait?: Time;
}

export interface ShopCardInput {
  readonly title: string;
  /** what was decided, in a sentence */
  readonly decision: string;
  readonly holdDown: HoldDown;
  readonly bedding?: Bedding;
  readonly depth: FacingDepth;
  readonly clearance: ScrewClearance;
  /** as worked out by `facing.cuttingConditions`, or as you will set it */
  readonly cut: CardCut | CuttingConditions;
}

/** an input whose cut is told in figures */
export interface CardFacts extends ShopCardInput {
  readonly cut: CardCut;
}

/** The card for the machine, one page; made by `shopCard`. */
export class ShopCard extends Block {
  /** the whole page, HTML with nothing that runs and nothing fetched; write it to a file and print that */
  readonly document: string;

  constructor(
    readonly title: string,
    readonly paper: Paper,
    body: Html,
  ) {
    super();
    this.document = html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${title}</title><style>${new Html(sheetStyle(paper) + cardStyle)}</style></head>
<body><section class="page card">${body}<div class="foot"><span>${title}</span><span>page 1 of 1</span></div></section></body></html>
`.markup;
  }

  override toHtml(): Html {
    return printable(this.document, fileNameOf(this.title), this.toString());
  }

  override toString(): string {
    return `${this.title}: shop card, 1 page ${this.paper}`;
  }
}

/**
 * The shop card of a facing job: decision, set-up, torque, depth, feeds, checks in order, cautions; one page, A4 or
 * Letter, black on white.
 *
 * Refused where the hold-down or a screw head is not safe, where the conditions load it beyond what it was worked out for, where the cut goes deeper than the plate was planned for, and
 * where the finishing cut is below 0.1 mm (common practice: deflection would copy the old form).
 *
 * @throws MeasurementError `paper`, `not-safe`, `not-held`, `too-deep`, `finish`, `different-frames`
 * @example
 * const places = [0, 1, 2, 3, 4, 5].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 90 * i, yMm: 20 + 90 * j, zUm: 3 * (i - 2.5) ** 2, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(1) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 18 } };
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * const nut = { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) };
 * const holdDown = facing.holdDown({ plate, screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, slot: facing.tSlot("M10"), nut, table: { tensileStrength: MPa(150), reserve: 3 }, screwLength: mm(30), jointFriction: 0.1, cutting: { force: newton(300), lift: newton(100) } });
 * const within = (label, half) => input.rectangular({ label, estimate: mm(0), halfWidth: half });
 * const doubts = { touchOff: within("touch-off", mm(0.05)), toolLength: within("tool length", mm(0.02)), lockShift: within("lock", mm(0.02)), deflection: within("deflection", mm(0.02)) };
 * const clearance = facing.screwClearance({ thread: "M10", leastCounterboreDepth: mm(13), plateThickness: mm(25), webNeeded: mm(8), margin: mm(0.5), screws: [{ label: "S1", cut: mm(0.4) }], doubts });
 * const cut = { spindleSpeed: perMin(600), feed: mmPerMin(60), stepOver: mm(30), passes: 6, roughDepth: mm(0.25), finishDepth: mm(0.15) };
 * shopCard({ title: "fixture plate", decision: "faced in place", holdDown, depth: facing.depth(map, { draws: 100 }), clearance, cut }).paper // => "A4"
 */
export function shopCard(input: ShopCardInput, options: { readonly paper?: Paper } = {}): ShopCard {
  const { paper = "A4" } = options;
  if (!Object.hasOwn(papers, paper)) {
    refuse("paper", `paper ${JSON.stringify(paper)} is not known; write "A4" or "Letter"`);
  }
  const facts = { ...input, cut: cardCutOf(input.cut) };
  needPlateFrame("shopCard", input.holdDown.plate, input.depth.surface);
  needSafe(facts);
  if (input.cut instanceof CuttingConditions) {
    const [short] = input.holdDown.shortOf(input.cut.load);
    if (short) refuse("not-held", `${short}; work the hold-down out anew with \`cutting: conditions\``);
  }
  return new ShopCard(input.title, paper, bodyOf(facts));
}

/** the figures of a cut for the card; conditions that do not suit print none */
function cardCutOf(cut: CardCut | CuttingConditions): CardCut {
  if (!(cut instanceof CuttingConditions)) return cut;
  if (!cut.safe) refuse("not-safe", `${cut}; no card is printed until they suit`);
  const { job, program, power, time } = cut.facts;
  return {
    spindleSpeed: job.speed,
    feed: program.feed,
    stepOver: mm(Math.max(...program.rounds.map(({ stepOver }) => stepOver.in("mm")))),
    passes: Math.max(...program.rounds.map(({ lanes }) => lanes)),
    roughDepth: cut.roughDepth,
    finishDepth: cut.finishDepth,
    power: power.interval()[1],
    time: time.value,
    ...(cut.warmUpWait ? { warmUpWait: cut.warmUpWait } : {}),
  };
}

function needSafe({ holdDown, clearance, cut }: CardFacts): void {
  if (!holdDown.safe) refuse("not-safe", `${holdDown}; no card is printed until it is`);
  if (!clearance.safe) refuse("not-safe", `${clearance}; no card is printed until it is`);
  const total = cut.roughDepth.plus(cut.finishDepth);
  const planned = holdDown.plate.deepestCut;
  if (!(total.si <= planned.si + 1e-9)) {
    refuse(
      "too-deep",
      `rough ${cut.roughDepth.text("mm")} and finish ${cut.finishDepth.text("mm")} are deeper than the ${planned.text("mm")} that plate and counterbores were planned for; cut less or plan the plate anew`,
    );
  }
  if (!(cut.finishDepth.in("mm") >= 0.1 - 1e-9)) {
    refuse("finish", `a finishing cut of ${cut.finishDepth.text("mm")}; give 0.1 mm or more and even`);
  }
}

function bodyOf(input: CardFacts): Html {
  const { holdDown, title, decision } = input;
  const rows = factsOf(input).map(([what, value]) => html`<tr><th>${what}</th><td>${value}</td></tr>`);
  const steps = cardSteps(input).map((step) => html`<li>${step}</li>`);
  return html`<h1>${title}</h1>
<p class="known"><b>Decision:</b> ${decision}</p>
${caution("before anything below is done", holdDown.cautions).toHtml()}
<div class="two"><table class="facts">${rows}</table><div class="map">${new Html(holdDownPlan(holdDown, input.depth.surface.frame).still)}</div></div>
<ol class="steps">${steps}</ol>`;
}

function factsOf({ holdDown, bedding, depth, clearance, cut }: CardFacts): readonly (readonly [string, string])[] {
  const { plate, engaged, most } = holdDown;
  const total = cut.roughDepth.plus(cut.finishDepth);
  const { areaCleaned, chanceOfCleanUp, volume } = depth.at(total);
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  return [
    ["plate", String(plate)],
    [
      "torque",
      `${holdDown.torque.in("N.m").toFixed(1)} N·m; never above ${most.torque.in("N.m").toFixed(1)} N·m (${most.what})`,
    ],
    ["thread in the nut", engaged.text("mm")],
    [
      "nearest head",
      `${clearance.nearest.label}: at least ${clearance.nearest.atLeast.in("mm").toFixed(2)} mm below the finished top`,
    ],
    [
      "depth",
      `${total.in("mm").toFixed(2)} mm below first contact (near ${depth.firstContact.place.label}); ${percent(areaCleaned.share)} cleaned, chance of all ${chanceText(chanceOfCleanUp)}; ${volume.in("cm3").toFixed(0)} cm³`,
    ],
    ["thickness left", `${plate.thickness.minus(total).in("mm").toFixed(2)} mm where deepest`],
    [
      "speed and feed",
      `${cut.spindleSpeed.in("1/min").toFixed(0)} 1/min, ${cut.feed.in("mm/min").toFixed(0)} mm/min, step-over ${cut.stepOver.in("mm").toFixed(1)} mm, ${cut.passes} passes a round`,
    ],
    ...(cut.power && cut.time
      ? [
          [
            "power and time",
            `${cut.power.in("W").toFixed(0)} W at the most, ${cut.time.in("min").toFixed(0)} min${cut.warmUpWait ? `, after ${cut.warmUpWait.in("min").toFixed(0)} min at speed` : ""}`,
          ] as const,
        ]
      : []),
    ...(bedding
      ? [
          [
            "bedding",
            `${bedding.says}; released it springs back by ${bedding.springBack.middle.in("um").toFixed(0)} µm (up to ${bedding.springBack.high.in("um").toFixed(0)} µm)`,
          ] as const,
        ]
      : []),
  ];
}

const cardStyle = [
  ".two{display:grid;grid-template-columns:1.15fr 1fr;gap:0 4mm;align-items:start;margin-top:1mm}",
  // the plan is printed at less than half its size: its names and ticks stay readable at the machine
  '.card .map svg{max-height:62mm}.card .map text[font-size="10"]{font-size:17px}.card .map text[font-size="11"]{font-size:15px}',
  ".facts{border-collapse:collapse;width:100%;font-size:2.9mm;line-height:1.25}",
  ".facts th{text-align:left;vertical-align:top;padding:.7mm 2mm .7mm 0;white-space:nowrap}",
  ".facts td{padding:.7mm 0;border-bottom:.2mm solid #000}",
  ".facts th{border-bottom:.2mm solid #000}",
  ".steps{margin:2mm 0 0;padding-left:6mm;font-size:3.1mm;line-height:1.3}",
  ".steps li{padding:.9mm 9mm .9mm 0;border-bottom:.2mm solid #000;position:relative}",
  ".steps li::after{content:'';position:absolute;right:1mm;top:1mm;width:4mm;height:4mm;border:.3mm solid #000}",
].join("");

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `shopCard: ${sentence}`);
}
