import { type Answers, withAnsweredOptions } from "#core";
import { Questions } from "../open/questions.tsx";
import { hasWaysThrough, WaysThrough } from "../sheets/ways-through.tsx";
import { isOfBefore } from "../state/figures.ts";
import { chooseLedger, ledgersApart } from "../state/ledgers.ts";
import { planField } from "../state/look.ts";
import { answers, edit, lastEdit, plan, readOnly, undo } from "../state/opened.ts";
import { withZeroRate } from "../state/plan-edits.ts";
import { refusal } from "../state/results.ts";
import { OurFault } from "./our-fault.tsx";
import { TroubleWords } from "./trouble-words.tsx";

/** What a rate 0 does and what a guide asks become the plan's; other answers are of what its files left open. */
function take(given: Answers): void {
  if (ledgersApart.value) {
    chooseLedger(given);
    return;
  }
  const others = readOnly.value || !plan.value ? given : intoPlan(given);
  if (Object.keys(others).length > 0) answers.value = { ...answers.value, ...others };
}

/** The answers that are no edit of the plan; the others become one, so that undo asks them again. */
function intoPlan(given: Answers): Answers {
  const { "zero-rate": zeroRate, ...others } = given;
  const change = zeroRate === undefined ? null : withZeroRate(plan.value!, zeroRate);
  if (change) edit(change);
  const isOption = ([key]: [string, string]): boolean => key.startsWith("option.");
  const options = Object.entries(given).filter(isOption);
  if (options.length > 0) {
    const name = options.map(([key, value]) => `${key.slice("option.".length)} set to ${value}`).join(", ");
    edit({ name, plan: withAnsweredOptions(plan.value!, given) });
  }
  return Object.fromEntries(Object.entries(change ? others : given).filter((one) => !isOption(one)));
}

/** Why the plan as it stands has no figures, with what leads on. It stays until it is dealt with. */
export function Refused() {
  const now = refusal.value;
  const one = planField.value;
  // What no field can be worked out for leads on from any of them.
  const leading = one ?? plan.value?.fields[0];
  if (!now) return null;
  const { trouble, questions } = now;
  const last = lastEdit.value;
  const isOne = now.of === "field" && (plan.value?.fields.length ?? 0) > 1;
  return (
    <section class="refused" role="alert" aria-label="The plan cannot be worked out">
      <p>
        <b>
          {isOne ? one?.name : "The plan"} as it stands{" "}
          {questions.length > 0 ? "is not worked out yet." : "cannot be worked out."}
        </b>{" "}
        {isOfBefore.value && "Map and figures, ~, are of the plan before. "}
        {isOne
          ? "No map of this field is written until this is dealt with; the other fields can go on. "
          : "No map is written and no sheet printed until this is dealt with. "}
        The plan itself is kept.
      </p>
      {questions.length > 0 && (
        <Questions
          key={questions.map(({ key }) => key).join()}
          questions={questions}
          isWaiting={false}
          answer={take}
        />
      )}
      {trouble?.ours && <OurFault message={trouble.message} />}
      {trouble && !trouble.ours && (
        <TroubleWords of={trouble}>
          {leading && hasWaysThrough(leading, trouble.code) && (
            <WaysThrough one={leading} code={trouble.code} />
          )}
        </TroubleWords>
      )}
      {last && !ledgersApart.value && (
        <p>
          <button type="button" class="link" disabled={readOnly.value} onClick={undo}>
            Undo: {last.name}
          </button>
        </p>
      )}
    </section>
  );
}
