import {
  type Guide,
  guideById,
  guideStatus,
  type Nutrient,
  type OptionAnswers,
  overrideConstants,
  ownGuide,
  recalledConstants,
} from "../../agronomy/index.ts";
import { InputError } from "../../errors/index.ts";
import type { PlanGuideCheck } from "../document/document-need-types.ts";
import type { PlanField, PlanOwnGuide } from "../document/document-types.ts";
import type { GuideShown } from "../results/need-result-types.ts";

/** The guide of one nutrient of a field, with the plan's figures in place of its own, and the answers it is read by. */
export interface FieldGuide {
  readonly guide: Guide;
  readonly check: PlanGuideCheck | undefined;
  readonly crop: string;
  readonly options: OptionAnswers;
}

/** Throws `unknown-guide`, `unknown-constant`, `constant-not-usable`, `own-table-not-usable`, `rotation-contradicts`. */
export function fieldGuide(
  field: PlanField,
  nutrient: Nutrient,
  own: readonly PlanOwnGuide[],
  checks: readonly PlanGuideCheck[],
): FieldGuide {
  const asked = field.nutrients?.[nutrient];
  const id = asked?.guide ?? field.guide;
  const typed = own.find((guide) => guide.id === id);
  const check = typed ? undefined : checks.find((one) => one.id === id);
  const published = typed ? ownGuide(typed) : guideById(id);
  const guide = check?.constants ? overrideConstants(published, check.constants) : published;
  const given =
    asked?.guide === undefined ? { ...field.guideOptions, ...asked?.guideOptions } : asked.guideOptions;
  return { guide, check, crop: asked?.crop ?? field.crop, options: withRotation(field, guide, given ?? {}) };
}

const SMALL_GRAIN_OR_ALFALFA = /wheat|alfalfa/i;
const ROTATIONS = { without: "corn-soy", with: "with-wheat-or-alfalfa" } as const;

/** The guide's own word for the field's rotation, where it asks for one and the rotation tells. */
function withRotation(field: PlanField, guide: Guide, given: OptionAnswers): OptionAnswers {
  const choices = guide.options.find((option) => option.key === "rotation")?.choices ?? [];
  const crops = field.rotation ?? [];
  if (crops.length === 0 || !choices.includes(ROTATIONS.with)) return given;
  const isShort = crops.every((crop) => crop === "corn" || crop === "soybean");
  const told = crops.some((crop) => SMALL_GRAIN_OR_ALFALFA.test(crop))
    ? ROTATIONS.with
    : isShort
      ? ROTATIONS.without
      : undefined;
  if (told === undefined) return given;
  if (given.rotation !== undefined && given.rotation !== told) {
    throw new InputError(
      "rotation-contradicts",
      `${field.name}: the rotation ${crops.join(", ")} and the guide option rotation=${given.rotation} contradict each other.`,
      `Leave guideOptions.rotation out, or make it ${told}.`,
    );
  }
  return { ...given, rotation: told };
}

/** The guide as it is shown, with what of it is from memory or put in by the user among the figures used. */
export function guideShown({ guide, check }: FieldGuide, constants: readonly string[]): GuideShown {
  const used = new Set(constants);
  const { id, title, publication, region, edition, supersededBy } = guide;
  return {
    id,
    title,
    publication,
    region,
    edition,
    supersededBy,
    status: guideStatus(guide, check?.confirmed),
    confirmed: check?.confirmed ?? null,
    overridden: Object.entries(guide.constants).flatMap(([key, constant]) =>
      used.has(key) && constant.published !== undefined
        ? [
            {
              id: key,
              what: constant.what,
              unit: constant.unit,
              value: constant.value,
              published: constant.published,
            },
          ]
        : [],
    ),
    used: Object.keys(guide.constants).filter((key) => used.has(key)),
    fromMemory: recalledConstants(guide, [...used]),
  };
}
