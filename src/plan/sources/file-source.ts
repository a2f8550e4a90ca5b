/**
 * Where input bytes come from. A folder, a zip, dropped files and a picked directory look alike through it.
 * Paths are relative, with forward slashes, without empty parts, `.` or `..`.
 */
export interface FileSource {
  /** Every file there, folders within included; sorted by code unit, no path twice. */
  list(): Promise<string[]>;
  /** The whole file. Throws `InputError` naming the path when it is not there or may not be read. */
  read(path: string): Promise<Uint8Array>;
}
