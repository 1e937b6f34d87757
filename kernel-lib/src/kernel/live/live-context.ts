/** What every part of the live page's server knows. */
export interface LiveContext {
  /** whole path of the project's folder, links resolved */
  readonly project: string;
  /** where the browser's files were built to */
  readonly pageFolder: string;
  /** folder of this server alone, below build/, for connection files, named after process and port */
  readonly scratch: string;
}
