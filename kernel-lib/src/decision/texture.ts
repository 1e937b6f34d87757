import { MeasurementError } from "../measurement-error.js";
import type { Length } from "../quantity/index.js";

/** Ridges on a face that is cut, peak to valley, as `facing.ridges` gives them for the tilt of the head. */
export interface TextureOfCut {
  /** with the head as it stands */
  readonly asFound: Length;
  /** with the tilt that shims will leave */
  readonly reTrammed: Length;
}

/** "texture on a cut face from 4.0 µm to 0.6 µm" */
export function textureText(texture: TextureOfCut | undefined): string {
  if (!texture) return "texture on a cut face becomes less; give the texture by facing.ridges to see by how much";
  const print = (value: Length) => `${value.in("um").toFixed(1)} µm`;
  return `texture on a cut face from ${print(texture.asFound)} to ${print(texture.reTrammed)}`;
}

/** @throws MeasurementError `texture` */
export function checkTexture(texture: TextureOfCut): void {
  for (const [name, value] of Object.entries(texture)) {
    if (value.si >= 0) continue;
    throw new MeasurementError(
      "texture",
      `decision.options: texture.${name} is ${value.text("um")}; give a peak to valley of zero or more`,
    );
  }
}
