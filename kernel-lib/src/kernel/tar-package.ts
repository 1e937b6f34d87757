import { createRequire } from "node:module";

/** What we use of the tar package, loaded when an archive is made or read. */
export interface TarPackage {
  create(
    options: {
      readonly cwd: string;
      readonly file: string;
      readonly sync: true;
      readonly portable: boolean;
      readonly strict: boolean;
      readonly mtime: Date;
    },
    paths: readonly string[],
  ): void;
  readonly Parser: new (options: {
    readonly strict: boolean;
    readonly onReadEntry: (entry: TarEntry) => void;
  }) => TarParser;
}

/** One file, folder or link of a tar as it is read. */
export interface TarEntry {
  readonly path: string;
  readonly type: string;
  readonly size: number;
  on(event: "data", heard: (bytes: Uint8Array) => void): void;
  resume(): void;
}

export interface TarParser {
  on(event: "error", heard: (error: Error) => void): void;
  end(bytes: Uint8Array): void;
}

export function loadTar(): TarPackage {
  return createRequire(__filename)("tar") as TarPackage;
}
