/** The machine a stick is for. */
export type StickPass = "strip" | "broadcast";
/** What became of a field's maps: in the display, or worked. */
export type FieldMark = "loaded" | "done";

/** A map as it last went on a stick. */
export interface RecordedMap {
  readonly revision: number;
  readonly name: string;
  readonly sha256: string;
  /** The task it went as, where no files of it went on the stick. */
  readonly task?: string | undefined;
  /** Hash and pounds of the map itself, whatever forms of it went on the stick; absent in what an earlier version wrote. */
  readonly ofMap?: { readonly sha256: string; readonly totalLb: number } | undefined;
}

/** What was put on sticks for one machine. */
export interface PassRecord {
  /** Number of the last revision: 1 is A. */
  readonly revision: number;
  /** Hash of everything that went on the stick in it. */
  readonly sha256: string;
  /** By stem: the revision a map last changed in, the name it has on the stick since, and the hash of its files. */
  readonly maps: Readonly<Record<string, RecordedMap>>;
  /** Every name ever given to a map of a field, so that older maps on a stick are told. */
  readonly names: Readonly<Record<string, string>>;
  readonly marks: Readonly<Record<string, FieldMark>>;
}

/** What a build's folder remembers of its sticks; it stands beside that folder, not in it, so that a new build keeps it. */
export interface StickRecord {
  readonly format: "stick-record/1";
  readonly strip: PassRecord;
  readonly broadcast: PassRecord;
}

const EMPTY: PassRecord = { revision: 0, sha256: "", maps: {}, names: {}, marks: {} };

/** Of a folder whose maps never went on a stick. */
export const noSticks: StickRecord = { format: "stick-record/1", strip: EMPTY, broadcast: EMPTY };
