import { spline } from "./shared/spline.mjs";

export default spline("spline-exact", 0, {
  python: "w03_spline_exact.py",
  variant: "hand-s0",
  ratio: "1 at 500, 1.2 at 2000",
});
