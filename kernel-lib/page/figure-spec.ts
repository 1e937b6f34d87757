/** What plotly draws: our kernel's `application/vnd.plotly.v1+json`. */
export interface FigureSpec {
  readonly data: unknown;
  readonly layout: { readonly height?: number; readonly [key: string]: unknown };
}

/** whether a value is a figure, as far as this page looks into it */
export function isFigure(value: unknown): value is FigureSpec {
  return typeof value === "object" && value !== null && "data" in value && "layout" in value;
}
