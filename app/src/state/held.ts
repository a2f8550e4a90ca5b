import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { type Notice, numberText } from "#core";
import { farm } from "./results.ts";

/** The files that lie in the folder served, as their result.json has them. */
interface HeldFiles {
  readonly origin: string;
  readonly planSha256: string;
  /** File stem and the pounds it holds. */
  readonly lbByStem: ReadonlyMap<string, number>;
}

export const heldFiles: Signal<HeldFiles | null> = signal(null);

/** What of a result.json the page holds its own figures against; null when it is not one. */
export function readHeld(origin: string, text: string): HeldFiles | null {
  try {
    const read = JSON.parse(text) as {
      readonly plan: { readonly sha256: string };
      readonly prescriptions: readonly {
        readonly totalLb: number;
        readonly files: readonly { readonly path: string }[];
      }[];
    };
    const stems = read.prescriptions.map(({ totalLb, files }) => {
      const name = files[0]!.path.replace(/^.*\//, "");
      return [name.slice(0, name.lastIndexOf(".")), totalLb] as const;
    });
    return { origin, planSha256: read.plan.sha256, lbByStem: new Map(stems) };
  } catch {
    return null;
  }
}

/** Pounds that files and plan disagree by are a doubt; so are files of another state of the plan. */
export const disagreements: ReadonlySignal<readonly Notice[]> = computed(() => {
  const held = heldFiles.value;
  const now = farm.value;
  if (!held || !now || now.incomplete !== "") return [];
  if (held.planSha256 !== now.planSha256) {
    const message = "The files in the folder are of another state of this plan. Build again, or take these.";
    return [{ code: "files-of-another-plan", message, where: "" }];
  }
  return now.fields
    .flatMap((line) => line.maps)
    .flatMap(({ stem, totalLb }): Notice[] => {
      const inFolder = held.lbByStem.get(stem);
      if (inFolder !== undefined && Math.abs(inFolder - totalLb) < 0.01) return [];
      const holds = inFolder === undefined ? "is not in the folder" : `holds ${poundsText(inFolder)} lb`;
      const message = `${stem} ${holds}; the plan makes ${poundsText(totalLb)} lb. Do not use it: build again.`;
      return [{ code: "files-disagree", message, where: stem }];
    });
});

/** To a hundredth, as far as the two are held against each other. */
const poundsText = (lb: number): string => numberText(lb, 2);
