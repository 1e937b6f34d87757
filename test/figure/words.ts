import type { Figure } from "../../kernel-lib/src/figure/index.js";

/** All text of the live picture, marks of plotly taken out, lines joined. */
export function liveWords({ data, layout }: Figure): string {
  const words: string[] = [];
  const visit = (value: unknown): void => {
    if (typeof value === "string") words.push(value);
    else if (typeof value === "object" && value !== null) Object.values(value).forEach(visit);
  };
  visit(layout);
  // what shows only under the pointer does not count
  visit(data.map(({ customdata, hovertemplate, ...seen }) => seen));
  const text = words
    .join(" ")
    .replace(/<br>/g, " ")
    .replace(/<\/?(?:b|span)\b[^>]*>/g, " ");
  return tidy(text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&"));
}

/** All text of the still picture; its title element, which nobody sees, left out. */
export function stillWords({ still }: Figure): string {
  const words = [...still.matchAll(/<text\b[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text ?? "");
  return tidy(words.join(" ").replace(/&#(\d+);/g, (_, code) => String.fromCharCode(Number(code))));
}

function tidy(text: string): string {
  return text.replace(/\s+/g, " ");
}
