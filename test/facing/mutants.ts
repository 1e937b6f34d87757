/** Faults put into a program, one at a time: what is typed wrong, lost, doubled or swapped on the way to a control. */
export function mutantsOf(text: string): readonly { readonly what: string; readonly text: string }[] {
  const lines = text.replace(/\n$/, "").split("\n");
  const found: { what: string; text: string }[] = [];
  const add = (what: string, changed: readonly string[]) => found.push({ what, text: `${changed.join("\n")}\n` });
  for (const [i, line] of lines.entries()) {
    const at = `line ${i + 1} (${line})`;
    const put = (...instead: string[]) => [...lines.slice(0, i), ...instead, ...lines.slice(i + 1)];
    add(`${at} lost`, put());
    if (line.startsWith("(")) continue;
    add(`${at} twice`, put(line, line));
    add(`${at} is the last that arrived`, lines.slice(0, i + 1));
    const next = lines[i + 1];
    if (next !== undefined)
      add(`${at} swapped with the next`, [...lines.slice(0, i), next, line, ...lines.slice(i + 2)]);
    const words = line.split(" ");
    for (const [k, word] of words.entries()) {
      for (const instead of changed(word)) {
        add(
          `${at}: ${word} became ${instead || "nothing"}`,
          put(
            words
              .with(k, instead)
              .filter((w) => w !== "")
              .join(" "),
          ),
        );
      }
    }
  }
  return found;
}

const codes: { readonly [code: string]: readonly string[] } = {
  G0: ["G1", "G2", "G28"],
  G1: ["G0", "G3", "G10"],
  G4: ["G0", "G5"],
  G17: ["G18", "G71"],
  G21: ["G20", "G12"],
  G40: ["G41", "G04"],
  G80: ["G81", "G08"],
  G90: ["G91", "G09"],
  G94: ["G95", "G93", "G49"],
  G54: ["G55", "G45"],
  M0: ["M1", "M3"],
  M3: ["M4", "M5", "M30"],
  M5: ["M3", "M9", "M0"],
  M30: ["M3", "M0", "M5"],
};

function changed(word: string): readonly string[] {
  const others = codes[word];
  if (others) return ["", ...others];
  const [address, value] = [word[0]!, Number(word.slice(1))];
  const text = (v: number) => `${address}${Number.isInteger(v) ? `${v}.0` : Number(v.toFixed(4))}`;
  const other = { X: "Y", Y: "X", Z: "X", F: "S", S: "F", P: "F" }[address]!;
  return [
    "",
    text(-value),
    text(10 * value),
    text(value / 10),
    text(value + 1),
    text(value - 1),
    text(value + 25),
    text(value - 25),
    word.replace(".0", ""),
    word.replace(".", ","),
    word.toLowerCase(),
    other + word.slice(1),
    `${word}5`,
  ].filter((instead) => instead !== word);
}
