import ts from "@tslab/typescript-for-tslab";
import type { Converter } from "tslab/dist/converter.js";

/** the declarations that nearly every cell is read with: the language's own, Node's, this package's */
const known =
  /[\\/](?:typescript-for-tslab[\\/]lib[\\/]lib\.[\w.]*|@types[\\/]node[\\/].*|(?:kernel-lib|dialbook)[\\/]dist[\\/]index\.)d\.ts$/;

/**
 * A converter that reads the declarations of the language, of Node and of this package without their documentation until
 * someone asks what a name is. A run without a person never does, and to read them takes a third of the time without.
 */
export function documentationOnRequest(create: () => Converter): Converter {
  const texts = new DeclarationTexts();
  const inner = create();
  return {
    ...inner,
    inspect: (declarations, source, position) => {
      texts.useWhole();
      return inner.inspect(declarations, source, position);
    },
    complete: (declarations, source, position) => {
      texts.useWhole();
      return inner.complete(declarations, source, position);
    },
  };
}

class DeclarationTexts {
  private bare = true;
  private readonly watchers: (() => void)[] = [];

  constructor() {
    const { readFile, watchFile } = ts.sys;
    ts.sys.readFile = (path, encoding) => {
      const text = readFile.call(ts.sys, path, encoding);
      return this.bare && text !== undefined && known.test(path) ? withoutDocumentation(text) : text;
    };
    if (!watchFile) return;
    ts.sys.watchFile = (path, callback, ...rest) => {
      if (known.test(path)) this.watchers.push(() => callback(path, ts.FileWatcherEventKind.Changed));
      return watchFile.call(ts.sys, path, callback, ...rest);
    };
  }

  useWhole(): void {
    if (!this.bare) return;
    this.bare = false;
    for (const changed of this.watchers) changed();
  }
}

/** texts and comments of every sort, so that what looks like documentation inside of another is left there */
const quoted = /"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\[\s\S])*`|\/\/[^\n]*|\/\*[\s\S]*?\*\//g;

/** A declaration file without the comments that the compiler reads as documentation. */
export function withoutDocumentation(text: string): string {
  return text.replace(quoted, (found) => (found.startsWith("/**") && found !== "/**/" ? " " : found));
}
