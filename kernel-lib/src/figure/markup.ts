/** Text made safe inside HTML and SVG, in element content and in a quoted attribute. */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
