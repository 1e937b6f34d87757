/**
 * The header by which a browser saves an answer under a name, whatever letters are in it.
 *
 * @see RFC 8187, section 3.2: signs that are no `attr-char` are coded, also those that encodeURIComponent leaves
 */
export function savedAs(name: string): { readonly "content-disposition": string } {
  const coded = encodeURIComponent(name).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return { "content-disposition": `attachment; filename*=UTF-8''${coded}` };
}
