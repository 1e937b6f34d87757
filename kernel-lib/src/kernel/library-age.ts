import { statSync } from "node:fs";
import { join } from "node:path";

/** Knows whether a package was built anew after this kernel had loaded it. */
export class LibraryAge {
  private known: number | undefined;

  constructor(private readonly packageFolder: string) {
    this.known = this.builtAt();
  }

  /** True once for every build that was made while the kernel ran. */
  isRebuilt(): boolean {
    const now = this.builtAt();
    if (now === undefined || now === this.known) return false;
    this.known = now;
    return true;
  }

  /** nothing while a build is under way */
  private builtAt(): number | undefined {
    const [code, types] = ["index.js", "index.d.ts"].map(
      (file) => statSync(join(this.packageFolder, file), { throwIfNoEntry: false })?.mtimeMs,
    );
    return code === undefined || types === undefined ? undefined : Math.max(code, types);
  }
}
