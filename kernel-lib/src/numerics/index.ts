export { bisquareFit } from "./bisquare.js";
export type { FamilyName } from "./covariance-family.js";
export {
  chiSquaredCdf,
  chiSquaredQuantile,
  fCdf,
  fQuantile,
  fUpperTail,
  normalCdf,
  normalQuantile,
  tCdf,
  tQuantile,
} from "./distributions.js";
export type { GaussianProcess } from "./fitted-gaussian.js";
export type { CovarianceSize } from "./gaussian-likelihood.js";
export { type GaussianProcessOptions, gaussianProcess } from "./gaussian-surface.js";
export { orthonormal } from "./householder.js";
export { huberFit, type RobustFit, type RobustOptions } from "./huber.js";
export { type Kriging, type KrigingOptions, kriging, type Points, type Trend } from "./kriging.js";
export { type LeastSquares, leastSquares } from "./least-squares.js";
export { type LeastSquaresPlane, leastSquaresPlane } from "./least-squares-plane.js";
export { type MeanAndDeviation, meanAndDeviation } from "./mean-deviation.js";
export { median } from "./median.js";
export { type MinimumZone, minimumZonePlane } from "./minimum-zone.js";
export { type MinimumZoneLine, minimumZoneLine } from "./minimum-zone-line.js";
export { type NonlinearFit, type NonlinearProblem, nonlinearLeastSquares } from "./nonlinear-least-squares.js";
export { type AnovaLine, type OneWayAnova, oneWayAnova } from "./one-way-anova.js";
export { type OrthogonalPlane, orthogonalPlane } from "./orthogonal-plane.js";
export { type RandomStream, randomStream } from "./random.js";
export { type SampleSummary, summariseSample } from "./sample.js";
export { simultaneousFactor } from "./simultaneous.js";
export type { SizeBounds } from "./size-search.js";
export { spreadOver } from "./spread-over.js";
export { cholesky, semidefiniteFactor, solveSymmetric } from "./symmetric.js";
export { type SplineOptions, type ThinPlateSpline, thinPlateSpline } from "./thin-plate-spline.js";
export { type TrimmedPlane, trimmedPlane } from "./trimmed-plane.js";
export {
  type AnovaRow,
  type CrossedShape,
  type TestedRow,
  type TwoWayAnova,
  twoWayAnova,
  twoWayAnovas,
} from "./two-way-anova.js";
