/** What is wrong with one still picture as a browser draws it, each fault in words. Runs inside the page. */
export async function faultsOf(markup: string): Promise<string[]> {
  const scale = 2;
  /** text against what is behind it, and marks that carry meaning (WCAG 2.2, 1.4.3 and 1.4.11) */
  const least = { text: 4.5, mark: 3 };
  /** of the room of a text: more of it in a line's colour than this, and a line runs through the letters */
  const lineThrough = 0.025;

  type Rgb = readonly [number, number, number];
  type Box = { left: number; right: number; top: number; bottom: number };
  const faults: string[] = [];
  const holder = document.createElement("div");
  holder.innerHTML = markup;
  document.body.append(holder);
  const svg = holder.querySelector("svg") as SVGSVGElement;
  const { width, height } = svg.viewBox.baseVal;
  svg.setAttribute("width", String(width));
  svg.setAttribute("height", String(height));
  const texts = Array.from(svg.querySelectorAll<SVGTextElement>("text")).filter(
    (text) => text.textContent !== "" && getComputedStyle(text).fill !== "none",
  );

  const channel = (value: number): number => {
    const part = value / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  };
  const luminance = ([r, g, b]: Rgb): number => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
  const contrast = (a: Rgb, b: Rgb): number => {
    const [dark, light] = [luminance(a), luminance(b)].sort((p, q) => p - q) as [number, number];
    return (light + 0.05) / (dark + 0.05);
  };
  const rgb = (colour: string): Rgb => {
    const [r = 0, g = 0, b = 0] = (colour.match(/[\d.]+/g) ?? []).map(Number);
    return [r, g, b];
  };
  const name = (text: SVGTextElement): string => JSON.stringify(text.textContent);

  /** the picture with some of it changed, as pixels */
  const painted = async (change: (copy: SVGSVGElement) => void): Promise<(x: number, y: number) => Rgb> => {
    const copy = svg.cloneNode(true) as SVGSVGElement;
    change(copy);
    const image = new Image();
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(new XMLSerializer().serializeToString(copy))}`;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = Math.ceil(width * scale);
    canvas.height = Math.ceil(height * scale);
    const pen = canvas.getContext("2d", { willReadFrequently: true }) as CanvasRenderingContext2D;
    pen.drawImage(image, 0, 0, width * scale, height * scale);
    const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
    return (x, y) => {
      const column = Math.min(Math.max(Math.round(x * scale), 0), canvas.width - 1);
      const at = 4 * (Math.min(Math.max(Math.round(y * scale), 0), canvas.height - 1) * canvas.width + column);
      return [data[at] ?? 255, data[at + 1] ?? 255, data[at + 2] ?? 255];
    };
  };

  const frame = svg.getBoundingClientRect();
  /** the room that the letters of a text take: from the foot of most to the head of capitals, turned as the text is */
  const roomOf = (text: SVGTextElement): Box => {
    const own = text.getBBox();
    const size = Number.parseFloat(getComputedStyle(text).fontSize);
    const foot = own.y + own.height * 0.79;
    const corners = [
      [own.x, foot - 0.74 * size],
      [own.x + own.width, foot - 0.74 * size],
      [own.x, foot],
      [own.x + own.width, foot],
    ] as const;
    const turn = text.getCTM() as DOMMatrix;
    const turned = corners.map(([x, y]) => new DOMPoint(x, y).matrixTransform(turn));
    const [xs, ys] = [turned.map(({ x }) => x), turned.map(({ y }) => y)];
    return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
  };
  const rooms = texts.map(roomOf);

  // texts that leave the picture, or touch each other
  texts.forEach((text, i) => {
    const whole = text.getBoundingClientRect();
    const out = Math.max(
      frame.left - whole.left,
      whole.right - frame.right,
      frame.top - whole.top,
      whole.bottom - frame.bottom,
    );
    if (out > 0) faults.push(`${name(text)} leaves the picture by ${out.toFixed(1)} px`);
    const a = rooms[i] as Box;
    const { stroke, strokeWidth } = getComputedStyle(text);
    const rim = stroke === "none" ? 0 : Number.parseFloat(strokeWidth) / 2 - 0.5;
    for (let j = 0; j < i; j++) {
      const b = rooms[j] as Box;
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      const touch = across > -1.5 && down > 0.5;
      // the rim of paper about the later one hides the one below it
      const hides = across + rim > 0.5 && down + rim > 0.5;
      if (touch || hides) {
        faults.push(
          `${name(texts[j] as SVGTextElement)} and ${name(text)} touch (${across.toFixed(1)} × ${down.toFixed(1)} px)`,
        );
      }
    }
  });

  // letters against what is behind them: areas, lines, their own rim
  const behind = await painted((copy) => {
    for (const text of Array.from(copy.querySelectorAll("text"))) text.setAttribute("fill-opacity", "0");
  });
  texts.forEach((text, i) => {
    const { left, right, top, bottom } = rooms[i] as Box;
    const fill = rgb(getComputedStyle(text).fill);
    const seen: number[] = [];
    for (let y = top; y < bottom; y += 1 / scale) {
      for (let x = left; x < right; x += 1 / scale) seen.push(contrast(fill, behind(x, y)));
    }
    seen.sort((a, b) => a - b);
    const typical = seen[Math.floor(seen.length * 0.2)] ?? 21;
    const lost = seen.filter((one) => one < least.text).length / seen.length;
    if (typical < least.text) faults.push(`${name(text)} stands at ${typical.toFixed(1)} : 1 from what is behind it`);
    else if (lost > lineThrough)
      faults.push(`a line runs through ${name(text)} (${(100 * lost).toFixed(0)} % of its room)`);
  });

  // marks against the areas they stand on: curves, lines, dots; hairlines and rims that let through are decoration
  const hairline = "rgb(217, 217, 214)";
  const coloursOf = (el: SVGGeometryElement): string[] => {
    const { stroke, strokeOpacity, fill, fillOpacity } = getComputedStyle(el);
    const line = stroke !== "none" && stroke !== hairline && Number(strokeOpacity) === 1 && stroke !== fill;
    // a circle is a dot; a small path that is filled and no patch of a map or a skin is a sign
    const isSign = el.tagName === "path" && !el.closest("g") && stroke === "none" && el.getTotalLength() < 60;
    const filled = fill !== "none" && Number(fillOpacity) > 0.5 && (el.tagName === "circle" || isSign);
    return [...(line ? [stroke] : []), ...(filled ? [fill] : [])];
  };
  const all = Array.from(svg.querySelectorAll("*"));
  const shapes = Array.from(svg.querySelectorAll<SVGGeometryElement>("line,polyline,circle,path,rect"));
  const marks = shapes
    .filter((el) => !el.closest("clipPath"))
    .map((el) => ({ el, colours: coloursOf(el) }))
    .filter(({ el, colours }) => colours.length > 0 && el.getTotalLength() > 0);
  const hidden = new Set(
    shapes
      .filter((el) => getComputedStyle(el).stroke === hairline && getComputedStyle(el).fill === "none")
      .concat(marks.flatMap(({ el }) => (el.tagName === "rect" ? [] : [el])))
      .map((el) => all.indexOf(el)),
  );
  const areas = await painted((copy) => {
    Array.from(copy.querySelectorAll("*")).forEach((el, i) => {
      if (el.tagName === "text" || hidden.has(i)) el.setAttribute("visibility", "hidden");
      // the line round an area goes, the area stays
      if (el.tagName === "rect") el.setAttribute("stroke", "none");
    });
  });
  /** on the line and to its two sides: drawn where two areas meet, it is seen against one of them */
  const near = [
    [0, 0],
    [-2.5, -2.5],
    [2.5, 2.5],
    [-2.5, 2.5],
    [2.5, -2.5],
  ] as const;
  const told = new Set<string>();
  for (const { el, colours } of marks) {
    const [length, turn] = [el.getTotalLength(), el.getCTM() as DOMMatrix];
    const seen: number[] = [];
    for (let at = 0; at <= length; at += Math.min(5, length / 4)) {
      const p = el.getPointAtLength(at).matrixTransform(turn);
      const against = near.map(([dx, dy]) => areas(p.x + dx, p.y + dy));
      seen.push(Math.max(...colours.flatMap((colour) => against.map((other) => contrast(rgb(colour), other)))));
    }
    const worst = seen.sort((a, b) => a - b)[Math.floor(seen.length * 0.1)] as number;
    const words = `a ${el.tagName} in ${colours.join(" with ")} stands at ${worst.toFixed(1)} : 1 from what it is drawn on`;
    if (worst < least.mark && !told.has(words)) faults.push(words);
    told.add(words);
  }
  holder.remove();
  return faults;
}
