import { plainNames } from "./compile-words.js";

/**
 * What a typing mistake comes to, where the compiler speaks of types: a name that nothing bears, an option that is not there or
 * is missing, a promise, a number in quotation marks.
 *
 * @param messages one complaint of the compiler, its explanations after it
 * @param offered the names that the package offers for import
 * @returns the reworded sentence, or nothing for any other complaint
 */
export function typingWords(messages: readonly string[], offered: readonly string[] = []): string | undefined {
  const [message = "", ...reasons] = messages.map(plainNames);
  return (
    unknownName(message, offered) ??
    unknownMember(message) ??
    unknownOption([message, ...reasons]) ??
    withoutUncertainty([message, ...reasons]) ??
    missingOptions([message, ...reasons]) ??
    promise(message) ??
    quotedNumber(message) ??
    twice(message)
  );
}

function unknownName(message: string, offered: readonly string[]): string | undefined {
  const found = /^Cannot find name '([^']*)'\.(?: Did you mean '([^']*)'\?)?$/.exec(message);
  if (!found) return undefined;
  const [, name = "", meant] = found;
  if (meant !== undefined) return `nothing is called '${name}' here; did you mean '${meant}'`;
  return offered.includes(name)
    ? `'${name}' is not imported yet; write import { ${name} } from "dialbook", or run the cell that does`
    : `nothing is called '${name}' here; run the cell that makes it, mend that cell if it stopped, or mend the name`;
}

function unknownMember(message: string): string | undefined {
  const found = /^Property '([^']*)' does not exist on type '(.*)'\.(?: Did you mean '([^']*)'\?)?$/.exec(message);
  if (!found) return undefined;
  const [, name = "", owner = "", meant] = found;
  if (/^Promise</.test(owner)) return `a promise has no .${name}; write await before what makes it`;
  const end = meant === undefined ? "Tab after the dot lists what there is" : `did you mean .${meant}`;
  return `there is no .${name} here; ${end}`;
}

function unknownOption(messages: readonly string[]): string | undefined {
  const pattern =
    /^Object literal may only specify known properties, (?:and|but) '([^']*)' does not exist in type '.*'\.(?: Did you mean to write '([^']*)'\?)?$/;
  const found = messages.map((message) => pattern.exec(message)).find((match) => match !== null);
  if (!found) return undefined;
  const [, name = "", meant] = found;
  const end =
    meant === undefined ? "Tab inside the braces lists what there is, and capitals count" : `did you mean '${meant}'`;
  return `'${name}' can't be given here; ${end}`;
}

function missingOptions(messages: readonly string[]): string | undefined {
  for (const message of messages) {
    const one = /^Property '([^']*)' is missing in type '.*' but required in type '.*'\.$/.exec(message);
    if (one) return `'${one[1]}' is missing; give it as well`;
    const several = /^Type '.*' is missing the following properties from type '.*': (.*)$/.exec(message)?.[1];
    if (several === undefined || !literal(messages)) continue;
    const names = several.replace(/\.$/, "").replace(/, and (\d+) more$/, " and $1 more");
    return `missing: ${names}; give them as well`;
  }
  return undefined;
}

function withoutUncertainty(messages: readonly string[]): string | undefined {
  const plain =
    /^Type '(?:Quantity<"[^"]*">|[A-Z]\w*)' is missing the following properties from type 'Measured<"[^"]*">': /;
  return messages.some((message) => plain.test(message))
    ? "a plain quantity was given where one with its uncertainty is needed; give a result, or write Measured.from(input.rectangular({ … }))"
    : undefined;
}

/** whether what was given is written out in braces: of any other value the names missing are no help */
function literal([message = ""]: readonly string[]): boolean {
  return /^(?:Argument of type|Type) '\{/.test(message);
}

function promise(message: string): string | undefined {
  const found = /^(?:Argument of type|Type) 'Promise<.*>' is not assignable to (?:parameter of )?type '.*'\.$/.exec(
    message,
  );
  return found ? "a promise was given, not yet its value; write await before what makes it" : undefined;
}

function quotedNumber(message: string): string | undefined {
  const found =
    /^(?:Argument of type|Type) '(?:string|"[^"]*")' is not assignable to (?:parameter of )?type 'number'\.$/;
  return found.test(message) ? "a text was given where a number is needed; leave its quotation marks out" : undefined;
}

function twice(message: string): string | undefined {
  const name = /^Cannot redeclare block-scoped variable '([^']*)'\.$/.exec(message)?.[1];
  return name === undefined ? undefined : `'${name}' is declared twice in this cell; give one of them another name`;
}
