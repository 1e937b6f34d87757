import { inspect } from "node:util";

/** what a console shows of a value */
export const inspected = (value: object): string => inspect(value);
