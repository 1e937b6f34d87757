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
  "expansion coefficient": "1/K" | "um/(m.K)";
  mass: "kg" | "g" | "lb";
  density: "kg/m3" | "g/cm3";
}

export type Kind = keyof UnitNames;

/** how one unit stands to SI: si = (value + offset) × factor */
export interface Unit {
  /** as printed, with the real signs: µ, °, ² */
  readonly symbol: string;
  readonly factor: number;
  /** only a temperature has one */
  readonly offset?: number;
}

const inch = 0.0254;
const poundForce = 4.448_221_615_260_5;
const arcsec = Math.PI / 648_000;

/** unit table, a row a kind; the first unit of a row is the one a value prints in when nothing else is asked for */
export const units: { readonly [K in Kind]: { readonly [U in UnitNames[K]]: Unit } } = {
  number: { "1": u("", 1), "%": u("%", 0.01), ppm: u("ppm", 1e-6) },
  length: {
    mm: u("mm", 1e-3),
    um: u("µm", 1e-6),
    m: u("m", 1),
    nm: u("nm", 1e-9),
    in: u("in", inch),
    thou: u("thou", inch / 1000),
    tenth: u("tenth", inch / 10_000),
  },
  area: { mm2: u("mm²", 1e-6), m2: u("m²", 1), in2: u("in²", inch ** 2) },
  volume: { cm3: u("cm³", 1e-6), mm3: u("mm³", 1e-9), m3: u("m³", 1), in3: u("in³", inch ** 3) },
  angle: {
    deg: u("°", Math.PI / 180),
    arcmin: u("′", Math.PI / 10_800),
    arcsec: u("″", arcsec),
    rad: u("rad", 1),
    mrad: u("mrad", 1e-3),
  },
  slope: {
    "um/m": u("µm/m", 1e-6),
    "mm/m": u("mm/m", 1e-3),
    urad: u("µrad", 1e-6),
    arcsec: u("″", arcsec),
    "mm/300mm": u("mm/300 mm", 1 / 300),
    "thou/ft": u("thou/ft", 1 / 12_000),
  },
  temperature: { degC: u("°C", 1, 273.15), K: u("K", 1), degF: u("°F", 5 / 9, 459.67) },
  "temperature difference": { K: u("K", 1), degC: u("°C", 1), degF: u("°F", 5 / 9) },
  time: { min: u("min", 60), s: u("s", 1), h: u("h", 3600) },
  force: { N: u("N", 1), kN: u("kN", 1000), lbf: u("lbf", poundForce) },
  torque: {
    "N.m": u("N·m", 1),
    "lbf.ft": u("lbf·ft", poundForce * inch * 12),
    "lbf.in": u("lbf·in", poundForce * inch),
  },
  power: { kW: u("kW", 1000), W: u("W", 1), hp: u("hp", poundForce * inch * 12 * 550) },
  pressure: {
    MPa: u("MPa", 1e6),
    GPa: u("GPa", 1e9),
    Pa: u("Pa", 1),
    "N/mm2": u("N/mm²", 1e6),
    psi: u("psi", poundForce / inch ** 2),
  },
  "cutting speed": { "m/min": u("m/min", 1 / 60), "m/s": u("m/s", 1), "ft/min": u("ft/min", (inch * 12) / 60) },
  feed: { "mm/min": u("mm/min", 1e-3 / 60), "m/s": u("m/s", 1), "in/min": u("in/min", inch / 60) },
  "rotational speed": { "1/min": u("1/min", 1 / 60), "1/s": u("1/s", 1) },
  "expansion coefficient": { "um/(m.K)": u("µm/(m·K)", 1e-6), "1/K": u("1/K", 1) },
  mass: { kg: u("kg", 1), g: u("g", 1e-3), lb: u("lb", 0.453_592_37) },
  density: { "kg/m3": u("kg/m³", 1), "g/cm3": u("g/cm³", 1000) },
};

function u(symbol: string, factor: number, offset?: number): Unit {
  return offset === undefined ? { symbol, factor } : { symbol, factor, offset };
}
