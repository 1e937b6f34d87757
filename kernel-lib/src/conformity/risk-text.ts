import { printNumber } from "../quantity/print.js";

/** "3.2 %", "0.041 %", "below 0.001 %" */
export function riskText(risk: number): string {
  return risk < 1e-5 ? "below 0.001 %" : `${printNumber(100 * risk, 2)} %`;
}
