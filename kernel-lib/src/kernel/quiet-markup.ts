import { hasUnseen } from "../figure/markup.js";

/** elements that what we show is made of; none of them starts anything */
const ofOutputs = words(
  "div p span b i em strong small br hr a ul ol li dl dt dd h1 h2 h3 h4 h5 h6 table caption thead tbody tfoot tr th td " +
    "pre code details summary figure figcaption img progress iframe section",
);
/** those of whole pages and pictures beside */
const ofPages = words(
  "html head body meta title style header footer main nav article colgroup col svg g defs rect text tspan line path circle ellipse " +
    "polygon polyline clippath lineargradient stop pattern marker use",
);

const token =
  /<!doctype html>|<\/([a-z][a-z0-9]*)>|<([a-z][a-z0-9]*)((?:\s+[\w:-]+(?:="[^"<]*"|='[^'<]*')?)*)\s*\/?>|[^<]+/iy;
const attribute = /([\w:-]+)(?:=(?:"([^"]*)"|'([^']*)'))?/g;
const pictureAddress = /^data:image\/(?:(svg\+xml)|png|jpeg|gif);base64,([A-Za-z0-9+/=]*)$/;
const pageAddress = /^data:text\/html;base64,([A-Za-z0-9+/=]*)$/;
/** a name that every system opens as a page and as nothing else */
const pageName = /^[a-z0-9-]+\.html$/;
const opening = words("action background cite data formaction http-equiv longdesc manifest ping poster srcset target");

/**
 * True for the markup of an output in which nothing can run and nothing is fetched: of known elements only, no handler, no
 * address but those of pictures and pages that the text itself holds.
 *
 * Every "<" must begin a tag of a known form, so that a browser that divides the text in another way finds no other tags
 * in it. What is not so is refused, never repaired.
 */
export function isQuietMarkup(markup: string): boolean {
  return isQuiet(markup, false);
}

/** The same of a page that stands alone, and of a picture. */
export function isQuietPage(markup: string): boolean {
  return isQuiet(markup, true);
}

/**
 * True for a link that saves a page to print: the page is in the link itself and nothing can run in it, and it is saved under
 * the name of a page. Whoever opens the file does so outside every guard of the page around the link.
 */
export function isQuietPaper(address: string, name: string): boolean {
  const [, packed] = pageAddress.exec(address) ?? [];
  return packed !== undefined && pageName.test(name) && isQuietPage(textOf(packed));
}

/** True for a picture that an address holds: it can be saved, and a drawing opened by itself runs nothing. */
export function isQuietPicture(address: string): boolean {
  const [found, drawing, packed = ""] = pictureAddress.exec(address) ?? [];
  if (found === undefined) return false;
  return drawing === undefined || isQuietPage(textOf(packed));
}

function textOf(packed: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(Uint8Array.from(atob(packed), (c) => c.charCodeAt(0)));
  } catch {
    // no text, as a browser might still read it: nothing that is quiet
    return "<";
  }
}

function isQuiet(markup: string, whole: boolean): boolean {
  if (hasUnseen(markup)) return false;
  const reader = new RegExp(token);
  let inStyle = false;
  while (reader.lastIndex < markup.length) {
    const [text, closed, opened, attributes = ""] = reader.exec(markup) ?? [];
    if (text === undefined) return false;
    if (opened !== undefined && !isQuietTag(opened.toLowerCase(), attributes, whole)) return false;
    if (inStyle && closed === undefined && !isQuietStyle(text)) return false;
    inStyle = opened?.toLowerCase() === "style" || (inStyle && closed === undefined);
  }
  return true;
}

function isQuietTag(element: string, attributes: string, whole: boolean): boolean {
  if (!ofOutputs.has(element) && !(whole && ofPages.has(element))) return false;
  const given = new Map<string, string>();
  for (const [, name = "", double, single] of attributes.matchAll(attribute)) {
    // of two of one name a browser takes the first
    if (given.has(name.toLowerCase())) return false;
    given.set(name.toLowerCase(), double ?? single ?? "");
  }
  return [...given].every(([name, value]) => {
    // a name given to a part of a page would stand in the way of its scripts
    if (name === "id" || name === "name") return whole;
    return !name.startsWith("on") && !opening.has(name) && isQuietValue(element, name, value, given);
  });
}

function isQuietValue(element: string, name: string, value: string, beside: ReadonlyMap<string, string>): boolean {
  if (name === "src") return element === "img" && isQuietPicture(value);
  if (name === "download") return pageName.test(value);
  if (name === "srcdoc") return element === "iframe" && beside.get("sandbox") === "";
  if (name === "href" || name === "xlink:href")
    return /^#[\w-]*$/.test(value) || isQuietPaper(value, beside.get("download") ?? "");
  if (name === "style") return isQuietStyle(value.replaceAll("&#39;", "'"));
  return !/url\s*\(/i.test(value) || /^url\(#[\w-]+\)$/.test(value);
}

function isQuietStyle(text: string): boolean {
  return !/url\s*\(|image-set|@import|[\\&]/i.test(text);
}

function words(list: string): ReadonlySet<string> {
  return new Set(list.split(" "));
}
