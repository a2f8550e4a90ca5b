import { leaveOneOutChart, numberText, TEST_UNITS, wrongSide } from "#core";
import type { TestSummary } from "../engine/protocol.ts";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { Choices } from "../parts/choices.tsx";
import { Drawing } from "../parts/drawing.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { NotYet } from "../parts/not-yet.tsx";
import { Notices } from "../parts/notices.tsx";
import { area, words } from "../state/figures.ts";
import { doubts } from "../state/how-far.ts";
import { field } from "../state/results.ts";
import { goTo, here } from "../state/route.ts";
import { SoilComputed } from "./soil-computed.tsx";
import { SoilMethod } from "./soil-method.tsx";
import { SampleChecks, SampleList } from "./soil-samples.tsx";

const titles = { P: "Soil test phosphorus", K: "Soil test potassium", CEC: "Exchange capacity" } as const;
type Test = keyof typeof titles;

/** Samples and their maps: how sure the map is, and what stands against it. */
export function SoilSheet() {
  const shown = field.value;
  const { part } = here.value;
  const test: Test = part.startsWith("K") ? "K" : part === "CEC" ? "CEC" : "P";
  const isOdds = part.endsWith("-odds");
  const summary = shown?.tests.find((one) => one.test === test);
  const known = shown?.tests.map((one) => one.test) ?? [test];
  const show = (chosen: Test, asOdds: boolean) =>
    goTo({ ...here.value, sheet: "soil", part: asOdds && chosen !== "CEC" ? `${chosen}-odds` : chosen });
  return (
    <Bench
      title={titles[test]}
      aside={
        <Choices
          about="Soil test"
          value={test}
          options={known.map((one) => [one, one] as const)}
          onChoose={(chosen) => show(chosen, isOdds)}
        />
      }
      actions={
        <button
          type="button"
          class="action"
          onClick={() =>
            goTo({ sheet: "need", field: here.value.field, part: test === "K" ? "K2O" : "P2O5" })
          }
        >
          Go on to need
        </button>
      }
    >
      {summary ? (
        <Summary summary={summary} isOdds={isOdds} show={(asOdds) => show(test, asOdds)} />
      ) : (
        <NotYet />
      )}
      <Notices notices={(doubts.value.soil ?? []).filter(({ code }) => code !== "check-sample")} />
    </Bench>
  );
}

interface SummaryProps {
  readonly summary: TestSummary;
  readonly isOdds: boolean;
  readonly show: (asOdds: boolean) => void;
}

function Summary({ summary, isOdds, show }: SummaryProps) {
  const { test, samples, mean, odds, rmse, meanError, method, leftOut } = summary;
  const unit = TEST_UNITS[test];
  const decimals = test === "CEC" ? 1 : 0;
  return (
    <>
      {odds ? (
        <>
          <BigNumber value={area(odds.likelyBelowAc)} words={`${words().area} likely below ${odds.level}`} />
          <p class="second">
            {area(odds.cannotSayAc)} {words().area} more: the samples cannot say.
          </p>
        </>
      ) : (
        <BigNumber value={numberText(mean, decimals)} words={`${unit}, mean of ${samples} samples`} />
      )}
      <SampleChecks test={test} />
      {(summary.hasChance || isOdds) && (
        <ChoiceLine
          label="On the plat"
          about="What the plat shows"
          value={isOdds ? "odds" : "test"}
          options={[
            ["test", "the test"],
            ["odds", "odds of being below critical"],
          ]}
          onChoose={(chosen) => show(chosen === "odds")}
        />
      )}
      {isOdds && !summary.hasChance && (
        <p class="small second">This way of mapping gives no odds, or the guide has no critical level.</p>
      )}
      <SoilMethod summary={summary} />
      {leftOut && <LeftOut test={test} unit={unit} leftOut={leftOut} level={summary.criticalEverywhere} />}
      <table>
        <thead>
          <tr>
            <th scope="col">each sample left out</th>
            <FigureHeads of={["error (RMSE)", "bias"]} />
          </tr>
        </thead>
        <tbody>
          {summary.methods.map(({ name, rmse: error, bias, isUsed }) => (
            <tr key={name} class={isUsed ? "chosen" : ""}>
              <th scope="row">{name}</th>
              <td class="figure">{numberText(error, 1)}</td>
              <td class="figure">{numberText(bias, 1)}</td>
            </tr>
          ))}
          {summary.methods.length === 0 && rmse !== null && (
            <tr class="chosen">
              <th scope="row">{method.split(",")[0]}</th>
              <td class="figure">{numberText(rmse, 1)}</td>
              <td class="figure">{numberText(meanError ?? Number.NaN, 1)}</td>
            </tr>
          )}
        </tbody>
      </table>
      <SampleList summary={summary} />
      <SoilComputed summary={summary} />
    </>
  );
}

interface LeftOutProps {
  readonly test: string;
  readonly unit: string;
  readonly leftOut: { readonly observed: Float64Array; readonly estimate: Float64Array };
  readonly level: number | null;
}

function LeftOut({ test, unit, leftOut, level }: LeftOutProps) {
  const data = { ...leftOut, unit, ...(level === null ? {} : { criticalLevel: level }) };
  const wrong = wrongSide(data);
  return (
    <figure>
      <figcaption class="small">
        <b>Each sample left out</b>, {unit}
      </figcaption>
      <Drawing
        svg={leaveOneOutChart(data, { width: 360, height: 190 })}
        about={`Soil ${test}: each sample beside what the others say of its place. ${wrong?.text ?? ""}`}
      />
      {wrong && <p class="small second">{wrong.text}</p>}
    </figure>
  );
}
