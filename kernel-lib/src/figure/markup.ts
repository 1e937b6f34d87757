/** control signs but tab, line feed and return; marks that turn the direction of the words beside them; no signs at all */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const unseen = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;

/** True where a text holds signs that nobody sees. */
export function hasUnseen(text: string): boolean {
  return text.search(unseen) >= 0;
}

/** Text made safe inside HTML and SVG, in element content and in a quoted attribute; signs that nobody sees are written out. */
export function escapeMarkup(text: string): string {
  return visible(text).replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

/**
 * Text as it may reach a person anywhere: control signs, which a terminal obeys and a picture chokes on, and marks that
 * turn the direction of what stands beside them are written out, as in \u001b. Tabs and ends of lines stay.
 */
export function visible(text: string): string {
  return text.replaceAll("\r\n", "\n").replace(unseen, writtenOut).replaceAll("\r", "\\u000d");
}

function writtenOut(sign: string): string {
  return `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
