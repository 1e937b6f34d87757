/** longest name made of a title, in letters */
const longest = 60;

/** A title as the name of a file that every system takes, without its ending: small letters, figures and dashes. */
export function fileStem(title: string, otherwise: string): string {
  const plain = title
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, longest)
    .replace(/^-|-$/g, "");
  return plain === "" ? otherwise : plain;
}
