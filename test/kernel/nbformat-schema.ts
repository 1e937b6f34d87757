import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv } from "ajv";

const schema = JSON.parse(readFileSync(join(import.meta.dirname, "nbformat.v4.5.schema.json"), "utf8"));
delete schema.$schema; // draft 4, which the validator reads but does not know by name
const validate = new Ajv({ strict: false, allErrors: true }).compile(schema);

/** What is wrong with a notebook by the official schema of format 4.5; nothing when it is valid. */
export function schemaErrors(notebook: unknown): string[] {
  validate(notebook);
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}
