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
export { type LeastSquares, leastSquares } from "./least-squares.js";
export { type RandomStream, randomStream } from "./random.js";
