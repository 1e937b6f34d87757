import { type Contents, Drive, ServerConnection } from "@jupyterlab/services";

/** A save that the disk does not allow as it stands: the file changed, or is gone. */
export class DiskChanged extends Error {
  /** the widgets show no dialog of their own for an error of this name */
  override readonly name = "ModalCancelError";

  constructor(
    readonly what: "changed" | "gone",
    message: string,
  ) {
    super(message);
  }
}

/** A save that failed for another reason: read-only folder, no room, server away. */
export class NotSaved extends Error {
  override readonly name = "ModalCancelError";

  constructor(
    message: string,
    readonly away: boolean,
  ) {
    super(message);
  }
}

interface Seen {
  readonly hash: string | undefined;
  readonly lastModified: string;
}

type Options = Parameters<Drive["save"]>[1];

/** Files of the server, saved only over what this page last saw of them: the server compares and refuses. */
export class GuardedDrive extends Drive {
  /** what a save is held against */
  private readonly seen = new Map<string, Seen>();
  /** what the widgets were told last; the same, but for a change on the disk that a person decided to write over */
  private readonly told = new Map<string, Seen>();

  override async get(path: string, options?: Contents.IFetchOptions): Promise<Contents.IModel> {
    const known = this.seen.has(path) ? this.told.get(path) : undefined;
    // the widgets ask before each save whether the file changed; the server answers that with the save itself
    if (options?.content === false && known) return { ...this.blank(path), ...hashOf(known) };
    const model = await super.get(path, { ...options, hash: true });
    this.remember(path, model);
    return model;
  }

  override async save(path: string, options: Options = {}): Promise<Contents.IModel> {
    const known = this.seen.get(path);
    // the server would make a file that is gone anew; whether it should is for the person to say
    if (known && (await this.state(path).catch(() => "same")) === "gone")
      throw new DiskChanged("gone", `${path} is gone`);
    const guard = known ? { hash: known.hash, last_modified: known.lastModified } : {};
    try {
      const model = await super.save(path, { ...options, ...guard } as Options);
      this.remember(path, model);
      return model;
    } catch (error) {
      throw await refusal(error);
    }
  }

  override async rename(from: string, to: string): Promise<Contents.IModel> {
    const model = await super.rename(from, to);
    this.seen.delete(from);
    this.remember(to, model);
    return model;
  }

  /** what the disk holds now, without taking it as seen */
  onDisk(path: string, content = false): Promise<Contents.IModel> {
    return super.get(path, { content, hash: true });
  }

  /** whether the file is still as this page last saw it */
  async state(path: string): Promise<"same" | "changed" | "gone"> {
    try {
      const now = await this.onDisk(path);
      const known = this.seen.get(path);
      if (!known) return "same";
      return (known.hash ? now.hash === known.hash : now.last_modified === known.lastModified) ? "same" : "changed";
    } catch (error) {
      if (statusOf(error) === 404) return "gone";
      throw error;
    }
  }

  /** Takes what is on the disk as seen, so that the next save goes over it; for a person who was shown both. */
  async acceptDisk(path: string): Promise<void> {
    this.seen.set(path, seenIn(await this.onDisk(path)));
  }

  /** Forgets the file, so that the next save makes it anew. */
  forget(path: string): void {
    this.seen.delete(path);
  }

  private remember(path: string, model: Contents.IModel): void {
    this.seen.set(path, seenIn(model));
    this.told.set(path, seenIn(model));
  }

  private blank(path: string): Contents.IModel {
    const name = path.split("/").at(-1) ?? path;
    const empty = {
      created: "",
      last_modified: "",
      mimetype: "",
      content: null,
      format: null,
      writable: true,
    } as const;
    return { name, path, type: "notebook", ...empty };
  }
}

function seenIn(model: Contents.IModel): Seen {
  return { hash: model.hash, lastModified: model.last_modified };
}

function hashOf({ hash, lastModified }: Seen): Partial<Contents.IModel> {
  return { last_modified: lastModified, ...(hash !== undefined && { hash, hash_algorithm: "sha256" }) };
}

function statusOf(error: unknown): number | undefined {
  return error instanceof ServerConnection.ResponseError ? error.response.status : undefined;
}

async function refusal(error: unknown): Promise<Error> {
  const status = statusOf(error);
  const message = error instanceof Error ? error.message : String(error);
  if (status === 409) return new DiskChanged("changed", message);
  if (status === 404 || status === 410) return new DiskChanged("gone", message);
  return new NotSaved(message, error instanceof ServerConnection.NetworkError);
}
