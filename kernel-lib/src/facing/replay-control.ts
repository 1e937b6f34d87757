import type { BlockWord, ProgramBlock, ReplayRefusal } from "./replay-blocks.js";
import type { ReplayMove, ToolSpot } from "./replay-moves.js";
import type { ReplayShop } from "./replay-shop.js";
import { Spindle } from "./replay-spindle.js";

export interface ControlRun {
  readonly moves: readonly ReplayMove[];
  readonly refusals: readonly ReplayRefusal[];
  readonly dwellS: number;
}

const modes = new Map([
  [17, "plane"],
  [21, "units"],
  [40, "radius compensation"],
  [80, "cycle"],
  [90, "absolute"],
  [94, "feed a minute"],
  ...[54, 55, 56, 57, 58, 59].map((code) => [code, "work offset"] as const),
]);

/**
 * Runs the blocks as a control would that was left in the worst state: inches, relative, feed a turn, a cycle and a
 * compensation on, another plane and offset, spindle unknown, place unknown. What the text does not state is not known.
 */
export function run(blocks: readonly ProgramBlock[], shop: ReplayShop): ControlRun {
  const control = new Control(shop);
  for (const block of blocks) control.take(block);
  control.finish(blocks.at(-1)?.line ?? 1);
  return { moves: control.moves, refusals: control.refusals, dwellS: control.spindle.dwellS };
}

class Control {
  readonly moves: ReplayMove[] = [];
  readonly refusals: ReplayRefusal[] = [];
  readonly spindle: Spindle;
  private readonly stated = new Set<string>();
  private motion: ReplayMove["kind"] | undefined;
  private at: Partial<ToolSpot> = {};
  private feed: number | undefined;
  private hasEnded = false;
  private line = 1;

  constructor(private readonly shop: ReplayShop) {
    this.spindle = new Spindle(shop, this.refuse);
  }

  private readonly refuse = (code: string, sentence: string): void => {
    this.refusals.push({ line: this.line, code, sentence });
  };

  /** one kind of thing a line: what acts first in a mixed line differs between controls */
  take({ line, words }: ProgramBlock): void {
    this.line = line;
    const codes = words.filter(({ address }) => address === "G").map(({ value }) => value);
    const act = words.find(({ address }) => address === "M")?.value;
    const rest = words.filter(({ address }) => address !== "G" && address !== "M");
    if (this.hasEnded) this.refuse("end", "stands after M30, and a control may go on or begin again there");
    else if (act !== undefined && codes.length === 0) this.act(act, rest);
    else if (act === undefined && codes.length === 1 && codes[0] === 4) this.spindle.wait(rest);
    else if (act === undefined && codes.length <= 1 && codes.every((code) => code <= 1)) this.move(codes[0], rest);
    else if (act === undefined && rest.length === 0 && !codes.includes(4)) this.state(codes);
    else this.refuse("words", "what acts first in this line differs between controls; give each code a line");
  }

  finish(lastLine: number): void {
    this.line = lastLine;
    if (this.hasEnded) return;
    this.refuse("end", "the text ends without M30; it may have been cut off on its way to the control");
  }

  private state(codes: readonly number[]): void {
    for (const [i, code] of codes.entries()) {
      const name = modes.get(code);
      if (name === undefined) this.refuse("words", `G${code} is none of the codes that this program needs`);
      else if (codes.slice(0, i).some((other) => modes.get(other) === name)) {
        this.refuse("words", `two codes of one kind (${name}) stand in one line`);
      } else this.stateOne(code, name);
    }
  }

  private stateOne(code: number, name: string): void {
    const { offset } = this.shop;
    if (name === "work offset" && code !== offset) {
      this.refuse("offset", `G${code} is not the work offset of the job, G${offset}`);
    }
    if (name === "work offset" && this.stated.has(name)) {
      this.refuse("offset", "a work offset is stated again; the program has one, stated once");
    }
    // a cycle is of one kind with G0 and G1 on many controls: after G80 neither of them holds
    if (name === "cycle") this.motion = undefined;
    this.stated.add(name);
  }

  private act(code: number, rest: readonly BlockWord[]): void {
    const isClear = this.at.zMm !== undefined && this.at.zMm >= this.shop.clearanceMm - this.shop.digitMm;
    if (rest.some(({ address }) => !(code === 3 && address === "S"))) {
      this.refuse("words", `M${code} stands in one line with words that it does not take`);
    } else if (code === 3) this.spindle.start(rest[0]?.value, isClear);
    else if (code === 5) this.spindle.stop();
    else if (code === 0 || code === 30) this.pause(code, isClear);
    else this.refuse("words", `M${code} is none of the codes that this program needs`);
  }

  private pause(code: number, isClear: boolean): void {
    this.spindle.needStill(code);
    if (code === 0) return;
    this.hasEnded = true;
    if (!isClear) this.refuse("end", "the program ends with the cutter down; lift it first");
  }

  private move(code: number | undefined, rest: readonly BlockWord[]): void {
    if (code !== undefined) this.motion = code === 0 ? "rapid" : "feed";
    const value = (address: string) => rest.find((word) => word.address === address)?.value;
    const fault = this.moveFault(rest);
    if (fault || this.motion === undefined) {
      this.refuse(...(fault ?? (["modal", "neither G0 nor G1 was stated before this movement"] as const)));
      return;
    }
    this.feed = value("F") ?? this.feed;
    this.needModes();
    if (this.motion === "feed") this.spindle.needTurning();
    if (this.motion === "feed" && !(this.feed !== undefined && this.feed > 0)) {
      this.refuse("feed", "feeds without an F above zero");
    }
    this.go(value("X"), value("Y"), value("Z"), this.motion);
  }

  private moveFault(rest: readonly BlockWord[]): readonly [code: string, sentence: string] | undefined {
    const has = (addresses: string) => rest.some(({ address }) => addresses.includes(address));
    if (has("SP")) return ["words", "S or P stands in a line that moves"];
    if (!has("XYZ")) return ["words", "a line that asks for a movement names no axis"];
    if (has("F") && this.motion === "rapid") return ["feed", "F stands in a line with G0, where it has no meaning"];
    return undefined;
  }

  private go(x: number | undefined, y: number | undefined, z: number | undefined, kind: ReplayMove["kind"]): void {
    const { zero } = this.shop;
    const to: Partial<ToolSpot> = {
      ...this.at,
      ...(x === undefined ? {} : { xMm: x + zero.xMm }),
      ...(y === undefined ? {} : { yMm: y + zero.yMm }),
      ...(z === undefined ? {} : { zMm: z }),
    };
    const feedMmPerMin = kind === "feed" ? (this.feed ?? 0) : 0;
    this.moves.push({ line: this.line, kind, from: this.at, to, feedMmPerMin });
    this.at = to;
  }

  private needModes(): void {
    const missing = [...new Set(modes.values())].filter((mode) => !this.stated.has(mode));
    if (missing.length === 0) return;
    const left = "it would do what was left over in the control";
    this.refuse("modal", `moves before the text has stated ${missing.join(", ")}: ${left}`);
    for (const mode of missing) this.stated.add(mode);
  }
}
