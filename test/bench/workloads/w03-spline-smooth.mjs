import { spline } from "./shared/spline.mjs";

export default spline("spline-smooth", 1e-3, { python: "w03_spline_smooth.py", variant: "rbf-s1e-3", ratio: 0.5 });
