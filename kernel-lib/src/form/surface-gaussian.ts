import { gaussianProcess, spreadOver, thinPlateSpline } from "../numerics/index.js";
import { printNumber } from "../quantity/print.js";
import { range } from "./places.js";
import type { FittedMethod, MethodInput } from "./surface-method.js";

/** places on which the sizes of the covariance are found, at most */
const enough = 300;

/** Gaussian process, Matérn 5/2, a plane in the mean; noise and drift as the survey gives them. */
export function gaussianMethod({ surface, places, pitch, nugget }: MethodInput): FittedMethod {
  const { x, y, z } = places;
  const count = z.length;
  // form that varies within a pitch is not seen: no length below it
  const field = gaussianProcess(places, {
    covariance: "matern 5/2",
    trend: "plane",
    nugget,
    modes: surface.drift?.modesUm ?? [],
    ...(count > enough ? { fitOn: spreadOver(count, enough) } : {}),
    bounds: { lengthX: [pitch.x, 10 * range(x)], lengthY: [pitch.y, 10 * range(y)] },
  });
  const { lengthX, lengthY, variance } = field.size;
  const mm = (length: number, along: number) =>
    length > 5 * along ? `more than ${printNumber(5 * along, 2)} mm` : `${printNumber(length, 2)} mm`;
  return {
    name: "gaussian process",
    statement: `Gaussian process (Matérn 5/2): heights off a plane of ${printNumber(Math.sqrt(variance), 2)} µm standard deviation, alike over ${mm(lengthX, range(x))} along x and ${mm(lengthY, range(y))} along y${count > enough ? `, found on ${enough} of the places` : ""}`,
    heights: (px, py) => {
      const { mean, standardUncertainty } = field.predict(px, py);
      return { meanUm: mean, uUm: standardUncertainty };
    },
    leftOut: () => {
      const { residuals, standardDeviations } = field.leaveOneOut();
      return { residualsUm: residuals, standardDeviationsUm: standardDeviations };
    },
    covariances: (px, py) => field.covariances(px, py),
  };
}

/** Thin-plate spline, smoothed by cross-validation. */
export function splineMethod({ surface, places }: MethodInput): FittedMethod {
  const spline = thinPlateSpline(places);
  const { x, y } = places;
  // what each way in which the drift may be wrong does to the spline
  const drifts = (surface.drift?.modesUm ?? []).map((z) =>
    thinPlateSpline({ x, y, z }, { smoothing: spline.smoothing }),
  );
  return {
    name: "thin-plate spline",
    statement:
      "thin-plate spline, smoothed by generalised cross-validation (errors of the places taken as independent)",
    heights: (px, py) => {
      const { mean, standardUncertainty } = spline.predict(px, py);
      const shifts = drifts.map((drift) => drift.heights(px, py));
      return {
        meanUm: mean,
        uUm: standardUncertainty.map((u, i) => Math.hypot(u, ...shifts.map((shift) => shift[i]!))),
      };
    },
    leftOut: () => {
      const { residuals, standardDeviations } = spline.leaveOneOut();
      return { residualsUm: residuals, standardDeviationsUm: standardDeviations };
    },
    covariances: (px, py) => {
      const found = [...spline.covariances(px, py)];
      for (const drift of drifts) {
        const shift = drift.heights(px, py);
        for (let k = 0; k < found.length; k++) {
          found[k] = found[k]! + shift[Math.floor(k / px.length)]! * shift[k % px.length]!;
        }
      }
      return found;
    },
  };
}
