import { MeasurementError } from "../measurement-error.js";

/** Loads a package that only some readers need, when they need it; the first name that is installed counts. */
export function optionalPackage(names: readonly string[], forWhat: string): unknown {
  for (const name of names) {
    try {
      return require(name);
    } catch (error) {
      if ((error as { code?: string }).code !== "MODULE_NOT_FOUND") throw error;
    }
  }
  throw new MeasurementError(
    "package-missing",
    `${forWhat} needs the package ${names[0]}, which is not installed; install it in the folder of the notebooks: npm install ${names[0]}`,
  );
}
