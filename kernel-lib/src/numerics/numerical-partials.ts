/** step as a share of the size of the parameter: a power of two, so that it is added without rounding */
const share = 2 ** -10;

/**
 * @internal partial derivatives of a smooth function by differences over six points; the error is of the sixth order in the
 * step
 *
 * @param scales size of each parameter, for those that come near 0
 */
export function numericalPartials(
  value: (parameters: readonly number[]) => number,
  parameters: readonly number[],
  scales: readonly number[],
): readonly number[] {
  return parameters.map((centre, j) => {
    const size = Math.max(Math.abs(centre), 1e-6 * Math.abs(scales[j]!));
    const step = share * 2 ** Math.round(Math.log2(size));
    const at = (k: number) => value(parameters.map((p, i) => (i === j ? p + k * step : p)));
    const across = (k: number) => at(k) - at(-k);
    return (45 * across(1) - 9 * across(2) + across(3)) / (60 * step);
  });
}
