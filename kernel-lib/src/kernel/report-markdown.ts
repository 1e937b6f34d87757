import { Marked, type Tokens } from "marked";
import { Html, html } from "../display/html.js";
import { joined, whole } from "../display/whole.js";
import { visible } from "../figure/markup.js";
import type { TextCell } from "./notebook.js";

/** A heading of a chapter, for its list of contents. */
export interface Heading {
  readonly id: string;
  readonly text: string;
  readonly depth: number;
}

export interface RenderedText {
  readonly body: Html;
  readonly headings: readonly Heading[];
}

/** code of one word, such as the name of a sheet, which a line end would take apart at its hyphens */
const shortName = /^\S{1,34}$/;
const asWhole = new Html(' class="db-whole"');

/**
 * The text of a notebook as HTML. HTML that stands in the text is shown as text; links lead to http, https, a place on
 * the page or a file beside it; pictures come from the notebook itself or stay their words.
 *
 * @param prefix makes the ids of this cell's headings its own
 * @param title of the page; a first-level heading that says the same is left out
 * @param onPage chapters that stand on the same page, by name; a link to one of them stays on the page
 */
export function renderText(
  cell: TextCell,
  prefix: string,
  title: string,
  onPage: ReadonlySet<string> = new Set(),
): RenderedText {
  const headings: Heading[] = [];
  const marked = new Marked({
    gfm: true,
    async: false,
    walkTokens(token) {
      if (token.type === "text" && !("tokens" in token && token.tokens)) token.text = joined(token.text);
    },
    renderer: {
      html: ({ text }: Tokens.HTML | Tokens.Tag) => html`${text}`.markup,
      text(token: Tokens.Text | Tokens.Escape) {
        return "tokens" in token && token.tokens ? this.parser.parseInline(token.tokens) : whole(token.text).markup;
      },
      codespan: ({ text }: Tokens.Codespan) =>
        html`<code${shortName.test(text) ? asWhole : undefined}>${text}</code>`.markup,
      heading({ tokens, depth }: Tokens.Heading) {
        const content = this.parser.parseInline(tokens);
        const text = plainText(tokens);
        if (depth === 1 && text === joined(title)) return "";
        const id = `${prefix}-${headings.length + 1}`;
        headings.push({ id, text, depth });
        const level = String(Math.min(depth, 6));
        return `<h${level} id="${id}">${content}</h${level}>\n`;
      },
      link({ href, tokens }: Tokens.Link) {
        const content = new Html(this.parser.parseInline(tokens));
        return safeLink(href) ? html`<a href="${reportLink(href, onPage)}">${content}</a>`.markup : content.markup;
      },
      image: ({ href, text }: Tokens.Image) => pictureMarkup(cell, href, text),
    },
  });
  try {
    const body = marked.parse(visible(cell.source));
    return { body: new Html(typeof body === "string" ? body : ""), headings };
  } catch (error) {
    // thousands of quotations in quotations: shown as they were typed
    if (!(error instanceof RangeError)) throw error;
    return { body: html`<pre>${cell.source}</pre>`, headings: [] };
  }
}

function plainText(tokens: readonly { readonly type: string; readonly raw: string }[]): string {
  return tokens
    .map((token) => {
      if ("tokens" in token && Array.isArray(token.tokens)) return plainText(token.tokens);
      return "text" in token ? String(token.text) : token.raw;
    })
    .join("");
}

/** A scheme other than http and https, also one with blanks, control characters or coded signs in it, is no link. */
function safeLink(href: string): boolean {
  // a browser takes a backward stroke for a forward one
  if (/\\|&(?:#|tab;|newline;|colon;)/i.test(href)) return false;
  const bare = [...href].filter((sign) => sign > " ").join("");
  return /^https?:\/\//i.test(bare) || (!/^[^/?#]*:/.test(bare) && !bare.startsWith("//"));
}

/** Links between notebooks lead to the pages made of them. */
function reportLink(href: string, onPage: ReadonlySet<string>): string {
  if (/^https?:/i.test(href)) return href;
  const chapter = /^(?:\.\/)?([^/]+)\.ipynb(?:$|[#?])/.exec(href)?.[1];
  if (chapter !== undefined && onPage.has(decoded(chapter))) return `#${anchorOf(decoded(chapter))}`;
  return href.replace(/\.ipynb(?=$|[#?])/, ".html");
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** The id of a chapter on a page that holds several: an id takes no blanks. */
export function anchorOf(chapter: string): string {
  return `chapter-${encodeURIComponent(chapter).replaceAll("%", "_")}`;
}

const pictureTypes = ["image/png", "image/jpeg", "image/gif"];

function pictureMarkup(cell: TextCell, href: string, text: string): string {
  const data = cell.attachments?.[href.replace(/^attachment:/, "")] ?? {};
  const type = pictureTypes.find((name) => isBase64(data[name]));
  if (!href.startsWith("attachment:") || type === undefined) return html`<em>${text}</em>`.markup;
  return html`<img alt="${text}" src="data:${type};base64,${String(data[type]).replace(/\s/g, "")}">`.markup;
}

export function isBase64(value: unknown): value is string {
  return typeof value === "string" && /^[A-Za-z0-9+/=\s]+$/.test(value);
}
