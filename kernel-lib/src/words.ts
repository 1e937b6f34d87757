/** "1 reading", "3 readings", "0 readings"; two phrases where more than the noun changes. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "an angle", "a length": the article by the sound that the next word begins with. */
export function withArticle(noun: string): string {
  return /^[aeiou]/i.test(noun) ? `an ${noun}` : `a ${noun}`;
}
