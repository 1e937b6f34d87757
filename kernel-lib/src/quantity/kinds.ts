/** Every kind of quantity, and the units each may be given and read in. A temperature (a point on the scale) and a
 * temperature difference are two kinds. Factors follow the SI Brochure (9th edition, 2019); the inch is 25.4 mm exactly. */

/** units a kind may be given and read in; the keys of this interface are the kinds */
export interface UnitNames {
  number: "1" | "%" | "ppm";
  length: "m" | "mm" | "um" | "nm" | "in" | "thou" | "tenth";
  area: "m2" | "mm2" | "in2";
  volume: "m3" | "cm3" | "mm3" | "in3";
  angle: "rad" | "mrad" | "deg" | "arcmin" | "arcsec";
  slope: "um/m" | "mm/m" | "urad" | "arcsec" | "mm/300mm" | "thou/ft";
  temperature: "K" | "degC" | "degF";
  "temperature difference": "K" | "degC" | "degF";
  time: "s" | "min" | "h";
  force: "N" | "kN" | "lbf";
  torque: "N.m" | "lbf.ft" | "lbf.in";
  power: "W" | "kW" | "hp";
  pressure: "Pa" | "MPa" | "GPa" | "N/mm2" | "psi";
  "cutting speed": "m/s" | "m/min" | "ft/min";
  feed: "m/s" | "mm/min" | "in/min";
  "rotational speed": "1/s" | "1/min";
  "expansion coefficient": "1/K" | "um/(m.K)" | "uin/(in.degF)";
  "thermal drift": "um/K" | "mm/K" | "um/degC" | "uin/degF" | "thou/degF" | "m/K";
  mass: "kg" | "g" | "lb";
  density: "kg/m3" | "g/cm3" | "lb/in3";
}

export type Kind = keyof UnitNames;

/** The units a notebook is shown in: metric, or inch, °F and pound-force. Values do not depend on it. */
export type UnitSystem = "metric" | "inch";

/** How one unit stands to SI: si = (value + offset) × times / per. Two whole numbers where the unit is a fraction of SI,
 * so that 12.7 µm is held as the double nearest to 0.0000127 and read back as 12.7. */
export interface Unit {
  /** as printed, with the real signs: µ, °, ² */
  readonly symbol: string;
  readonly times: number;
  readonly per: number;
  /** only a temperature has one */
  readonly offset: number;
}

/** The SI value of a number in a unit. */
export function toSi(unit: Unit, value: number): number {
  return ((value + unit.offset) * unit.times) / unit.per;
}

/** The number in a unit of an SI value. Where it lies within two units of the last bit of a number of nine decimals it
 * is that number: 12.7, not 12.700000000000001. */
export function inUnit(unit: Unit, si: number): number {
  const value = (si * unit.per) / unit.times - unit.offset;
  const short = Math.round(value * 1e9) / 1e9;
  const size = Math.max(Math.abs(value), Math.abs(unit.offset));
  return Math.abs(short - value) <= 2 * Number.EPSILON * size ? short : value;
}

const poundForce = 4.448_221_615_260_5;

/** unit table, a row a kind; the first unit of a row is the one a value prints in when nothing else is asked for */
export const units: { readonly [K in Kind]: { readonly [U in UnitNames[K]]: Unit } } = {
  number: { "1": u("", 1), "%": u("%", 1, 100), ppm: u("ppm", 1, 1e6) },
  length: {
    mm: u("mm", 1, 1000),
    um: u("µm", 1, 1e6),
    m: u("m", 1),
    nm: u("nm", 1, 1e9),
    in: u("in", 254, 1e4),
    thou: u("thou", 254, 1e7),
    tenth: u("tenth", 254, 1e8),
  },
  area: { mm2: u("mm²", 1, 1e6), m2: u("m²", 1), in2: u("in²", 64_516, 1e8) },
  volume: {
    cm3: u("cm³", 1, 1e6),
    mm3: u("mm³", 1, 1e9),
    m3: u("m³", 1),
    in3: u("in³", 16_387_064, 1e12),
  },
  angle: {
    deg: u("°", Math.PI, 180),
    arcmin: u("′", Math.PI, 10_800),
    arcsec: u("″", Math.PI, 648_000),
    rad: u("rad", 1),
    mrad: u("mrad", 1, 1000),
  },
  slope: {
    "um/m": u("µm/m", 1, 1e6),
    "mm/m": u("mm/m", 1, 1000),
    urad: u("µrad", 1, 1e6),
    arcsec: u("″", Math.PI, 648_000),
    "mm/300mm": u("mm/300 mm", 1, 300),
    "thou/ft": u("thou/ft", 1, 12_000),
  },
  temperature: { degC: u("°C", 1, 1, 273.15), K: u("K", 1), degF: u("°F", 5, 9, 459.67) },
  "temperature difference": { K: u("K", 1), degC: u("°C", 1), degF: u("°F", 5, 9) },
  time: { min: u("min", 60), s: u("s", 1), h: u("h", 3600) },
  force: { N: u("N", 1), kN: u("kN", 1000), lbf: u("lbf", poundForce) },
  torque: {
    "N.m": u("N·m", 1),
    "lbf.ft": u("lbf·ft", poundForce * 3048, 1e4),
    "lbf.in": u("lbf·in", poundForce * 254, 1e4),
  },
  power: { kW: u("kW", 1000), W: u("W", 1), hp: u("hp", poundForce * 3048 * 550, 1e4) },
  pressure: {
    MPa: u("MPa", 1e6),
    GPa: u("GPa", 1e9),
    Pa: u("Pa", 1),
    "N/mm2": u("N/mm²", 1e6),
    psi: u("psi", poundForce * 1e8, 64_516),
  },
  "cutting speed": { "m/min": u("m/min", 1, 60), "m/s": u("m/s", 1), "ft/min": u("ft/min", 3048, 6e5) },
  feed: { "mm/min": u("mm/min", 1, 6e4), "m/s": u("m/s", 1), "in/min": u("in/min", 254, 6e5) },
  "rotational speed": { "1/min": u("1/min", 1, 60), "1/s": u("1/s", 1) },
  "expansion coefficient": {
    "um/(m.K)": u("µm/(m·K)", 1, 1e6),
    "1/K": u("1/K", 1),
    "uin/(in.degF)": u("µin/(in·°F)", 9, 5e6),
  },
  "thermal drift": {
    "um/K": u("µm/K", 1, 1e6),
    "mm/K": u("mm/K", 1, 1000),
    "um/degC": u("µm/°C", 1, 1e6),
    "uin/degF": u("µin/°F", 1143, 25e9),
    "thou/degF": u("thou/°F", 1143, 25e6),
    "m/K": u("m/K", 1),
  },
  mass: { kg: u("kg", 1), g: u("g", 1, 1000), lb: u("lb", 45_359_237, 1e8) },
  density: { "kg/m3": u("kg/m³", 1), "g/cm3": u("g/cm³", 1000), "lb/in3": u("lb/in³", 453_592_370_000, 16_387_064) },
};

function u(symbol: string, times: number, per = 1, offset = 0): Unit {
  return { symbol, times, per, offset };
}
