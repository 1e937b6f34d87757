const longest = 72;

/** A word of ISO 6983: address and number with a decimal point, to a thousandth. */
export function word(address: string, value: number): string {
  const text = (Math.round(value * 1000) / 1000 + 0).toFixed(3);
  return `${address}${text.replace(/(\.\d+?)0+$/, "$1")}`;
}

/** A sentence as comment lines: capitals of ASCII, which every control can store, broken at spaces. */
export function comments(sentence: string): readonly string[] {
  const plain = sentence
    .toUpperCase()
    .replaceAll("Ø", "DIA ")
    .replaceAll(/['’]/g, "")
    .replaceAll("×", "X")
    .replaceAll("−", "-")
    .replaceAll("Μ", "U")
    .normalize("NFD")
    .replaceAll(/\p{M}/gu, "")
    .replaceAll(/[^A-Z0-9 .,:;/+=-]/g, " ")
    .replaceAll(";", ",");
  const lines: string[] = [];
  for (const part of plain.split(/\s+/).flatMap((long) => long.match(/.{1,60}/g) ?? [])) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + part.length <= longest) lines[lines.length - 1] = `${last} ${part}`;
    else lines.push(part);
  }
  return lines.map((line) => `(${line})`);
}
