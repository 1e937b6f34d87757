import type { MimeBundle } from "../quantity/display-member.js";

/**
 * The way from a running cell to the page: what a progress bar or a figure loader writes to while the cell still runs.
 * The kernel connects it when it starts; outside our kernel nothing is connected and callers print text, or nothing.
 */
export interface DisplayChannel {
  /** shows a bundle below the running cell; with `displayId` it can be replaced later */
  show(bundle: MimeBundle, displayId?: string): void;
  /** replaces, wherever it stands, what was shown under this id */
  update(bundle: MimeBundle, displayId: string): void;
  /** identity of the front end that asked for the running cell; a reloaded page has a new one */
  readonly session: string;
  /** true for a run without a front end: nothing that moves is shown, and scripts are left to the report */
  readonly headless?: boolean;
}

let connected: DisplayChannel | undefined;

/** Connects the running kernel, or disconnects it. */
export function connectChannel(channel: DisplayChannel | undefined): void {
  connected = channel;
}

/** The connected channel, if the code runs in a kernel of ours. */
export function currentChannel(): DisplayChannel | undefined {
  return connected;
}
