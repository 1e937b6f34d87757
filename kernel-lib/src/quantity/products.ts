import type { Kind } from "./kinds.js";

/** What a product of two kinds is. A product that has no row has no meaning in the shop and does not compile. */
export interface Products {
  number: { [K in ScaledKind]: K };
  length: {
    number: "length";
    length: "area";
    area: "volume";
    slope: "length";
    "expansion coefficient": "thermal drift";
    force: "torque";
    "rotational speed": "feed";
  };
  area: { number: "area"; length: "volume"; pressure: "force" };
  volume: { number: "volume"; density: "mass" };
  angle: { number: "angle" };
  slope: { number: "slope"; length: "length" };
  temperature: Record<never, never>;
  "temperature difference": {
    number: "temperature difference";
    "expansion coefficient": "number";
    "thermal drift": "length";
  };
  time: { number: "time"; feed: "length"; "cutting speed": "length"; "rotational speed": "number" };
  force: { number: "force"; length: "torque"; "cutting speed": "power"; feed: "power" };
  torque: { number: "torque" };
  power: { number: "power" };
  pressure: { number: "pressure"; area: "force" };
  "cutting speed": { number: "cutting speed"; force: "power"; time: "length" };
  feed: { number: "feed"; time: "length"; force: "power" };
  "rotational speed": { number: "rotational speed"; length: "feed"; time: "number" };
  "expansion coefficient": {
    number: "expansion coefficient";
    "temperature difference": "number";
    length: "thermal drift";
  };
  "thermal drift": { number: "thermal drift"; "temperature difference": "length" };
  mass: { number: "mass" };
  density: { number: "density"; volume: "mass" };
}

/** every kind that may be scaled by a plain number: all but a temperature, which is a point on a scale */
export type ScaledKind = Exclude<Kind, "temperature">;

/** what a kind may be scaled by: a temperature by nothing */
export type Scalar<K extends Kind> = K extends "temperature" ? never : number;

/** What a quotient of two kinds is. */
export interface Quotients {
  number: { number: "number"; time: "rotational speed"; "temperature difference": "expansion coefficient" };
  length: {
    number: "length";
    length: "number";
    slope: "length";
    time: "feed";
    feed: "time";
    "cutting speed": "time";
    "temperature difference": "thermal drift";
    "thermal drift": "temperature difference";
  };
  area: { number: "area"; area: "number"; length: "length" };
  volume: { number: "volume"; volume: "number"; length: "area"; area: "length" };
  angle: { number: "angle"; angle: "number" };
  slope: { number: "slope"; slope: "number" };
  temperature: Record<never, never>;
  "temperature difference": { number: "temperature difference"; "temperature difference": "number" };
  time: { number: "time"; time: "number" };
  force: { number: "force"; force: "number"; area: "pressure"; pressure: "area" };
  torque: { number: "torque"; torque: "number"; length: "force"; force: "length" };
  power: { number: "power"; power: "number"; force: "cutting speed"; "cutting speed": "force" };
  pressure: { number: "pressure"; pressure: "number" };
  "cutting speed": { number: "cutting speed"; "cutting speed": "number" };
  feed: { number: "feed"; feed: "number"; "rotational speed": "length"; length: "rotational speed" };
  "rotational speed": { number: "rotational speed"; "rotational speed": "number" };
  "expansion coefficient": { number: "expansion coefficient"; "expansion coefficient": "number" };
  "thermal drift": {
    number: "thermal drift";
    "thermal drift": "number";
    length: "expansion coefficient";
    "expansion coefficient": "length";
  };
  mass: { number: "mass"; mass: "number"; volume: "density"; density: "volume" };
  density: { number: "density"; density: "number" };
}

/** the kind of a product */
export type Product<K extends Kind, O extends keyof Products[K]> = Products[K][O] & Kind;
/** the kind of a quotient */
export type Quotient<K extends Kind, O extends keyof Quotients[K]> = Quotients[K][O] & Kind;
/** what may be added to a kind: a temperature takes a temperature difference, any other its own kind */
export type Added<K extends Kind> = K extends "temperature" ? "temperature difference" : K;
/** what the difference of two values of a kind is */
export type Difference<K extends Kind> = K extends "temperature" ? "temperature difference" : K;

type Rows = { readonly [K in Kind]?: { readonly [O in Kind]?: Kind } };

/** products between two kinds other than a plain number, for the running code; the types above say the same */
export const productRows: Rows = {
  length: {
    length: "area",
    area: "volume",
    slope: "length",
    "expansion coefficient": "thermal drift",
    force: "torque",
    "rotational speed": "feed",
  },
  area: { length: "volume", pressure: "force" },
  volume: { density: "mass" },
  slope: { length: "length" },
  "temperature difference": { "expansion coefficient": "number", "thermal drift": "length" },
  time: { feed: "length", "cutting speed": "length", "rotational speed": "number" },
  force: { length: "torque", "cutting speed": "power", feed: "power" },
  pressure: { area: "force" },
  "cutting speed": { force: "power", time: "length" },
  feed: { time: "length", force: "power" },
  "rotational speed": { length: "feed", time: "number" },
  "expansion coefficient": { "temperature difference": "number", length: "thermal drift" },
  "thermal drift": { "temperature difference": "length" },
  density: { volume: "mass" },
};

/** quotients between two different kinds other than a plain number */
export const quotientRows: Rows = {
  number: { time: "rotational speed", "temperature difference": "expansion coefficient" },
  length: {
    slope: "length",
    time: "feed",
    feed: "time",
    "cutting speed": "time",
    "temperature difference": "thermal drift",
    "thermal drift": "temperature difference",
  },
  "thermal drift": { length: "expansion coefficient", "expansion coefficient": "length" },
  area: { length: "length" },
  volume: { length: "area", area: "length" },
  force: { area: "pressure", pressure: "area" },
  torque: { length: "force", force: "length" },
  power: { force: "cutting speed", "cutting speed": "force" },
  feed: { "rotational speed": "length", length: "rotational speed" },
  mass: { volume: "density", density: "volume" },
};
