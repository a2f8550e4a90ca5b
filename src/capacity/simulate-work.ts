import { requireNumber } from "./require-number.ts";
import { type Rig, workRate } from "./rig.ts";
import { usableLoad } from "./usable-load.ts";

/** A tender of the simulation. */
export interface SimulatedTender {
  /** lb it brings on a trip. */
  readonly lb: number;
  readonly tripHours: number;
  /** lb in it at the start; full when left out. */
  readonly startLb?: number;
  /** Hour at which it first stands at the field; 0 when left out. With `startLb` 0 it is on its way, full. */
  readonly backAtHour?: number;
}

/** A field on the way of the simulated rig. */
export interface SimulatedField {
  readonly id: string;
  readonly areaAc: number;
  /** lb/ac of all products together, the field's mean. */
  readonly rateLbPerAc: number;
  /** Hours to get here and be ready: fold, road, unfold, load the map. */
  readonly moveHours?: number;
  /** Trip of every tender from this field, in place of the tender's own. */
  readonly tripHours?: number;
  /** ac/h at work here, in place of the rig's (`workRateFromPasses`, `speedsByClass`). */
  readonly workAcPerHour?: number;
}

/** What `simulateWork` takes. */
export interface SimulateWorkInput {
  readonly rig: Rig;
  /** Usable lb of a full bin when it is not the rig's own. */
  readonly loadLb?: number;
  /** Left out: product always at hand. */
  readonly tenders?: readonly SimulatedTender[];
  /** In working order. */
  readonly fields: readonly SimulatedField[];
  /** Hours simulated. */
  readonly hours: number;
  /** lb in the bin at the start; full when left out. */
  readonly startBinLb?: number;
  /** A tender with less than this many lb left goes to reload; 0, the default: it stays until it is empty. */
  readonly leaveBelowLb?: number;
}

/** The end of one fill. */
export interface FillEvent {
  /** Hours since the start, when the rig can go on. */
  readonly atHour: number;
  readonly fieldId: string;
  readonly loadedLb: number;
  readonly waitHours: number;
  /** Acres done since the start. */
  readonly acresBefore: number;
}

/** What the rig got done, and when. */
export interface SimulatedWork {
  readonly acres: number;
  readonly acresByField: readonly number[];
  /** Hour at which each field was finished; null when it was not. */
  readonly doneAtHour: readonly (number | null)[];
  readonly fills: readonly FillEvent[];
  /** Hours by what the rig did; they add up to the hours simulated unless all fields were done before. */
  readonly workHours: number;
  /** Driving to the tender, positioning and taking product. */
  readonly stopHours: number;
  readonly waitHours: number;
  readonly moveHours: number;
  readonly binLb: number;
}

interface Standing {
  stockLb: number;
  /** Hour at which it stands at the field. */
  hereAt: number;
  readonly lb: number;
  readonly tripHours: number;
}

/**
 * The rig, its bin and its tenders, event by event: work until the bin is empty, drive, take from the tender on site
 * with the least in it, wait for the next one only with an empty bin. Exact for constant rates and times; for unequal
 * tenders, a rest in a tender, the start of a day and moves between fields. Throws `number-not-usable`.
 */
export function simulateWork(input: SimulateWorkInput): SimulatedWork {
  const { rig, fields, hours, leaveBelowLb = 0 } = input;
  const full = requireNumber("loadLb", input.loadLb ?? usableLoad(rig).loadLb, { above: 0 });
  const end = requireNumber("hours", hours);
  const tiny = 1e-9 * full;
  const tenders = input.tenders?.map(
    (tender): Standing => ({
      lb: requireNumber("tender.lb", tender.lb, { above: 0 }),
      tripHours: requireNumber("tender.tripHours", tender.tripHours),
      stockLb: (tender.startLb ?? tender.lb) > 0 ? (tender.startLb ?? tender.lb) : tender.lb,
      hereAt: tender.backAtHour ?? (tender.startLb === 0 ? tender.tripHours : 0),
    }),
  );
  let now = 0;
  let binLb = Math.min(full, requireNumber("startBinLb", input.startBinLb ?? full));
  const spent = { work: 0, stop: 0, wait: 0, move: 0 };
  const fills: FillEvent[] = [];
  const acresByField = fields.map(() => 0);
  const doneAtHour: (number | null)[] = fields.map(() => null);
  let acres = 0;

  /** Lets time pass, cut off at the end of the hours; true when all of it passed. */
  const pass = (kind: keyof typeof spent, duration: number): boolean => {
    const fits = now + duration <= end * (1 + 1e-12);
    const used = fits ? duration : Math.max(0, end - now);
    spent[kind] += used;
    now += used;
    return fits;
  };

  /** Takes product until the bin is full or nobody is on site; false when the hours are over. */
  const fill = (field: SimulatedField): boolean => {
    if (!pass("stop", rig.fixedHoursPerStop)) return false;
    const before = binLb;
    let waited = 0;
    for (;;) {
      const here = tenders
        ?.filter((tender) => tender.hereAt <= now + 1e-12)
        .sort((a, b) => a.stockLb - b.stockLb)[0];
      if (tenders !== undefined && here === undefined) {
        if (binLb > tiny) break;
        if (tenders.length === 0) return pass("wait", Number.POSITIVE_INFINITY);
        const wait = Math.min(...tenders.map((tender) => tender.hereAt)) - now;
        waited += wait;
        if (!pass("wait", wait)) return false;
        continue;
      }
      const takenLb = Math.min(full - binLb, here?.stockLb ?? full);
      if (!pass("stop", takenLb / rig.transferLbPerHour)) return false;
      binLb += takenLb;
      if (here !== undefined) {
        here.stockLb -= takenLb;
        if (here.stockLb <= Math.max(tiny, leaveBelowLb * (1 - 1e-12))) {
          here.stockLb = here.lb;
          here.hereAt = now + (field.tripHours ?? here.tripHours);
        }
      }
      if (binLb >= full - tiny) break;
    }
    fills.push({
      atHour: now,
      fieldId: field.id,
      loadedLb: binLb - before,
      waitHours: waited,
      acresBefore: acres,
    });
    return true;
  };

  const workField = (field: SimulatedField, f: number): boolean => {
    const perHour = field.workAcPerHour ?? workRate(rig);
    const rate = requireNumber(`fields[${f}].rateLbPerAc`, field.rateLbPerAc);
    let leftAc = requireNumber(`fields[${f}].areaAc`, field.areaAc);
    const tinyAc = 1e-9 * leftAc;
    if (!pass("move", field.moveHours ?? 0)) return false;
    while (leftAc > tinyAc) {
      if (binLb <= tiny && rate > 0 && !fill(field)) return false;
      const wanted = Math.min(leftAc, rate > 0 ? binLb / rate : leftAc);
      const before = now;
      const finished = pass("work", wanted / perHour);
      const done = finished ? wanted : (now - before) * perHour;
      acres += done;
      acresByField[f] = acresByField[f]! + done;
      leftAc -= done;
      binLb = Math.max(0, binLb - done * rate);
      if (!finished) return false;
    }
    doneAtHour[f] = now;
    return true;
  };

  for (const [f, field] of fields.entries()) if (!workField(field, f)) break;
  return {
    acres,
    acresByField,
    doneAtHour,
    fills,
    workHours: spent.work,
    stopHours: spent.stop,
    waitHours: spent.wait,
    moveHours: spent.move,
    binLb,
  };
}
