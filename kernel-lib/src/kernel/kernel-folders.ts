import { posix, win32 } from "node:path";

/** What decides where Jupyter looks for the kernels of one user. */
export interface UserPlace {
  readonly platform: NodeJS.Platform;
  readonly home: string;
  readonly environment: { readonly [name: string]: string | undefined };
}

/**
 * The folder in which Jupyter looks for the kernels of one user.
 *
 * @see Jupyter documentation, "Common directories and file locations", data files; where it is silent (no APPDATA,
 * JUPYTER_PLATFORM_DIRS) the source of jupyter_core, `jupyter_data_dir`
 */
export function kernelsFolder(place: UserPlace): string {
  return joiner(place)(dataFolder(place), "kernels");
}

/**
 * The folders into which Jupyter looks before that of the user, so that a kernel of the same name there hides ours: those
 * of JUPYTER_PATH, and that of a Python environment where it is to be preferred.
 *
 * @see jupyter_core, `jupyter_path` and `prefer_environment_over_user`
 */
export function foldersBefore(place: UserPlace): readonly string[] {
  const { environment } = place;
  const join = joiner(place);
  const named = (environment.JUPYTER_PATH ?? "").split(place.platform === "win32" ? ";" : ":");
  return [...named, ...environmentsBefore(place).map((prefix) => join(prefix, "share", "jupyter"))]
    .filter((folder) => folder !== "")
    .map((folder) => join(folder, "kernels"));
}

function dataFolder({ platform, home, environment }: UserPlace): string {
  const join = joiner({ platform });
  if (environment.JUPYTER_DATA_DIR) return environment.JUPYTER_DATA_DIR;
  if (isSet(environment.JUPYTER_PLATFORM_DIRS)) {
    if (platform === "darwin") return join(home, "Library", "Application Support", "Jupyter");
    if (platform === "win32") return join(environment.LOCALAPPDATA || join(home, "AppData", "Local"), "Jupyter");
  }
  if (platform === "darwin") return join(home, "Library", "Jupyter");
  if (platform !== "win32") return join(environment.XDG_DATA_HOME || join(home, ".local", "share"), "jupyter");
  if (environment.APPDATA) return join(environment.APPDATA, "jupyter");
  return join(environment.JUPYTER_CONFIG_DIR || join(home, ".jupyter"), "data");
}

/** a virtual environment of Python is preferred unless it is said otherwise; so is one of conda, but not its base */
function environmentsBefore({ environment }: UserPlace): readonly string[] {
  const { JUPYTER_PREFER_ENV_PATH: wish, VIRTUAL_ENV, CONDA_PREFIX, CONDA_DEFAULT_ENV = "base" } = environment;
  if (wish !== undefined && !isSet(wish)) return [];
  const conda = wish !== undefined || CONDA_DEFAULT_ENV !== "base" ? CONDA_PREFIX : undefined;
  return [VIRTUAL_ENV ?? "", conda ?? ""].filter((prefix) => prefix !== "");
}

/** as jupyter_core reads a yes or no */
function isSet(value: string | undefined): boolean {
  return value !== undefined && !["no", "n", "false", "off", "0", "0.0"].includes(value.toLowerCase());
}

function joiner({ platform }: Pick<UserPlace, "platform">): typeof posix.join {
  return platform === "win32" ? win32.join : posix.join;
}
