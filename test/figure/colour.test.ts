import { describe, expect, it } from "vitest";
import { colourAt, heightScale, uncertaintyScale } from "../../kernel-lib/src/figure/colour.js";
import { ink } from "../../kernel-lib/src/figure/frame.js";

type Vec = readonly [number, number, number];

function rgb(css: string): Vec {
  const found = css.startsWith("#")
    ? (css.match(/[0-9a-f]{2}/g) ?? []).map((pair) => Number.parseInt(pair, 16))
    : (css.match(/\d+/g) ?? []).map(Number);
  return [found[0]!, found[1]!, found[2]!];
}

function linear(css: string): Vec {
  // sRGB transfer curve, IEC 61966-2-1
  const [r, g, b] = rgb(css).map((value) =>
    value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4,
  );
  return [r!, g!, b!];
}

function times(matrix: readonly Vec[], [r, g, b]: Vec): Vec {
  const [x, y, z] = matrix.map(([p, q, s]) => Math.max(0, p * r + q * g + s * b));
  return [x!, y!, z!];
}

/** CIE 1976 L*a*b* under D65 */
function lab(colour: Vec): Vec {
  const xyz = times(
    [
      [0.4124, 0.3576, 0.1805],
      [0.2126, 0.7152, 0.0722],
      [0.0193, 0.1192, 0.9505],
    ],
    colour,
  );
  const [x, y, z] = xyz.map((value, i) => Math.cbrt(value / [0.9505, 1, 1.089][i]!));
  return [116 * y! - 16, 500 * (x! - y!), 200 * (y! - z!)];
}

function distance(a: Vec, b: Vec): number {
  return Math.hypot(...a.map((value, i) => value - b[i]!));
}

// Machado, Oliveira, Fernandes 2009, severity 1.0; values from memory, each row sums to 1
const blindness: { readonly [name: string]: readonly Vec[] } = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
};

describe("the scale of heights", () => {
  it.each(Object.entries(blindness))("keeps high and low apart for %s", (_, matrix) => {
    for (const part of [0.25, 0.5, 0.75, 1]) {
      const [low, high] = [colourAt(heightScale, 0.5 - part / 2), colourAt(heightScale, 0.5 + part / 2)];
      const seen = [low, high].map((colour) => lab(times(matrix, linear(colour))));
      // 2.3 is the usual just noticeable difference; common practice, no source
      expect(distance(seen[0]!, seen[1]!)).toBeGreaterThan(10);
    }
  });

  it("grows darker evenly from zero to both ends", () => {
    const lightness = [0, 1, 2, 3, 4, 5, 6].map((i) => lab(linear(colourAt(heightScale, i / 6)))[0]);
    for (let i = 0; i < 3; i++) {
      expect(lightness[i]!).toBeLessThan(lightness[i + 1]!);
      expect(lightness[6 - i]!).toBeLessThan(lightness[5 - i]!);
      expect(Math.abs(lightness[i]! - lightness[6 - i]!)).toBeLessThan(6);
    }
  });

  it.each([heightScale, uncertaintyScale])(
    "lets dark figures be read on every colour (WCAG 2.1, 1.4.3: 4.5 to 1)",
    (scale) => {
      const luminance = (css: string): number => {
        const [r, g, b] = linear(css);
        return 0.2126 * r + 0.7152 * g + 0.0722 * b;
      };
      for (let i = 0; i <= 20; i++) {
        const ratio = (luminance(colourAt(scale, i / 20)) + 0.05) / (luminance(ink) + 0.05);
        expect(ratio).toBeGreaterThan(4.5);
      }
    },
  );

  it("refuses a place that is no number", () => {
    expect(() => colourAt(heightScale, Number.NaN)).toThrow("colour scale: NaN is not a place on it");
  });
});
