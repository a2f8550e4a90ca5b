import { useState } from "preact/hooks";
import { type Notice, numberText, TEST_UNITS, type TestName } from "#core";
import type { TestSummary } from "../engine/protocol.ts";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { Fold } from "../parts/fold.tsx";
import { doubts } from "../state/how-far.ts";
import { planField } from "../state/look.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { withSampleDoubted, withSampleKept, withSampleOff, withSampleOn } from "../state/soil-edits.ts";

interface Checked {
  readonly sample: string;
  readonly notice: Notice;
}

/** Samples of the test that their neighbours deny. */
function toCheck(test: TestName): Checked[] {
  return (doubts.value.soil ?? []).flatMap((notice) => {
    const named = /(P|K|CEC), sample (.+)$/.exec(notice.where);
    if (notice.code !== "check-sample" || named?.[1] !== test) return [];
    return [{ sample: named[2]!, notice }];
  });
}

/** Check these first: each with what stands against it and the choice to keep it or leave it out. */
export function SampleChecks({ test }: { test: TestName }) {
  return (
    <>
      {toCheck(test).map(({ sample, notice }) => (
        <div class="doubt" key={sample}>
          <p>
            <b>Check sample {sample}.</b> {notice.message}
          </p>
          <Decide test={test} sample={sample} isDoubted />
          <p class="second">Until you decide, the map counts it as reported.</p>
        </div>
      ))}
    </>
  );
}

/** Every sample of the test, those to check first, then those left out and those checked and kept. */
export function SampleList({ summary }: { summary: TestSummary }) {
  return (
    <Fold class="small" title="Samples">
      <SampleTable summary={summary} />
    </Fold>
  );
}

interface Row {
  readonly sample: string;
  readonly value: number;
  readonly others: number | null;
  /** Why it is left out. */
  readonly reason: string | null;
  /** Why it was checked and kept. */
  readonly kept: string | null;
  readonly isDoubted: boolean;
}

function rowsOf({ test, taken }: TestSummary): Row[] {
  const one = planField.value;
  const doubted = new Set(toCheck(test).map(({ sample }) => sample));
  const off = (one?.switchedOff ?? []).filter((switched) => switched.test === test);
  const left = off.flatMap(({ sample, reason }): Row[] => {
    const value = field.value?.ground.samples.find(({ id }) => id === sample)?.values[test];
    return [{ sample, value: value ?? Number.NaN, others: null, reason, kept: null, isDoubted: false }];
  });
  const kept = new Map(
    (one?.kept ?? []).filter((of) => of.test === test).map((of) => [of.sample, of.reason]),
  );
  const offNow = new Set(off.map(({ sample }) => sample));
  const used = taken
    .filter(({ id }) => !offNow.has(id))
    .map(({ id, value, others }) => ({
      sample: id,
      value,
      others,
      reason: null,
      kept: kept.get(id) ?? null,
      isDoubted: doubted.has(id),
    }));
  const first = used.filter((row) => row.isDoubted);
  const decided = used.filter((row) => !row.isDoubted && row.kept !== null);
  return [...first, ...left, ...decided, ...used.filter((row) => !row.isDoubted && row.kept === null)];
}

function SampleTable({ summary }: { summary: TestSummary }) {
  const { test } = summary;
  const [asked, setAsked] = useState<string | null>(null);
  const of = plan.value;
  const one = planField.value;
  if (!of || !one) return null;
  const decimals = test === "CEC" ? 1 : 0;
  return (
    <table class="samples">
      <thead>
        <tr>
          <th scope="col">sample</th>
          <FigureHeads of={[TEST_UNITS[test], "the others say"]} />
          <th scope="col">on the map</th>
        </tr>
      </thead>
      <tbody>
        {rowsOf(summary).map(({ sample, value, others, reason, kept, isDoubted }) => (
          <tr key={sample}>
            <th scope="row">
              {isDoubted && <span class="flag-text">check </span>}
              {sample}
            </th>
            <td class="figure">{numberText(value, decimals)}</td>
            <td class="figure">{numberText(others ?? Number.NaN, decimals)}</td>
            <td>
              {reason !== null ? (
                <>
                  left out: {reason}{" "}
                  <button
                    type="button"
                    class="link"
                    disabled={readOnly.value}
                    aria-label={`Take back in sample ${sample}`}
                    onClick={() => edit(withSampleOn(of, one, test, sample))}
                  >
                    Take back in
                  </button>
                </>
              ) : kept !== null ? (
                <>
                  checked and kept: {kept}{" "}
                  <button
                    type="button"
                    class="link"
                    disabled={readOnly.value}
                    aria-label={`Check sample ${sample} again`}
                    onClick={() => edit(withSampleDoubted(of, one, test, sample))}
                  >
                    Check it again
                  </button>
                </>
              ) : asked === sample ? (
                <Decide test={test} sample={sample} onDone={() => setAsked(null)} />
              ) : (
                <button
                  type="button"
                  class="link"
                  disabled={readOnly.value}
                  aria-label={`Leave out sample ${sample}`}
                  onClick={() => setAsked(sample)}
                >
                  Leave out
                </button>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

interface DecideProps {
  readonly test: TestName;
  readonly sample: string;
  /** Its neighbours deny it: it can also be checked and kept. */
  readonly isDoubted?: boolean;
  readonly onDone?: () => void;
}

/** A sample is left out, or a doubted one kept, only with a reason. */
function Decide({ test, sample, isDoubted = false, onDone }: DecideProps) {
  const [reason, setReason] = useState("");
  const take = (decided: typeof withSampleOff) => {
    const of = plan.peek();
    const one = planField.peek();
    if (!of || !one || reason.trim() === "") return;
    edit(decided(of, one, test, sample, reason.trim()));
    onDone?.();
  };
  const isClosed = readOnly.value || reason.trim() === "";
  return (
    <form
      class="pair reason"
      onSubmit={(event) => {
        event.preventDefault();
        if (!isDoubted) take(withSampleOff);
      }}
    >
      <input
        type="text"
        aria-label={`Why sample ${sample} is ${isDoubted ? "kept or left out" : "left out"}`}
        placeholder="Why"
        value={reason}
        disabled={readOnly.value}
        onInput={(event) => setReason(event.currentTarget.value)}
      />
      {isDoubted && (
        <button
          type="button"
          aria-label={`Keep it: sample ${sample}`}
          disabled={isClosed}
          onClick={() => take(withSampleKept)}
        >
          Keep it
        </button>
      )}
      <button
        type="button"
        aria-label={`Leave it out: sample ${sample}`}
        disabled={isClosed}
        onClick={() => take(withSampleOff)}
      >
        Leave it out
      </button>
    </form>
  );
}
