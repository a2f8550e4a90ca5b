import { useEffect, useRef, useState } from "preact/hooks";
import { numberText } from "#core";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { planField } from "../state/look.ts";
import { plan } from "../state/opened.ts";
import { field, isBehind, refusal } from "../state/results.ts";
import { saveSheet, takeSheet } from "../state/save-sheet.ts";
import { showDocument } from "./show-document.ts";
import { StickPart } from "./stick.tsx";

/** The cab sheet as it prints, beside what it is for. */
export function CabSheetBench() {
  const of = plan.value!;
  const shown = field.value;
  const bins =
    shown?.maps
      .filter((map) => map.pass === "strip")
      .map(({ bin, product, totalLb }) => ({ id: bin, product, lb: totalLb })) ??
    of.rig.bins.map(({ id, product }) => ({ id, product, lb: Number.NaN }));
  return (
    <Bench
      title="Cab sheet"
      aside={<span class="second">{planField.value?.name}</span>}
      actions={
        <>
          <button
            type="button"
            class="action"
            disabled={!shown || isBehind.value || refusal.value !== null}
            onClick={() => window.print()}
          >
            Print
          </button>
          <button
            type="button"
            class="aside"
            disabled={refusal.value !== null}
            onClick={() => void saveSheet("cab.html")}
          >
            Save the cab sheet
          </button>
        </>
      }
    >
      {bins.map(({ id, product, lb }) => (
        <BigNumber key={id} value={numberText(lb, 0)} words={`lb ${product} in the strip, bin ${id}`} />
      ))}
      <p>
        One file, <b>cab.html</b>, for all fields: it opens from a stick or a tablet's storage without a
        server and without a script.
      </p>
      <p class="second small">
        It says which file goes to which bin, unit and column, the analysis the ticket must show, pounds,
        rates, what to do when a file is refused, and what to check before moving. It is also in the zip of
        the maps.
      </p>
      <StickPart />
    </Bench>
  );
}

/** The printed sheet itself, shown as a page. */
export function CabSheetPage() {
  const host = useRef<HTMLDivElement>(null);
  const [state, setState] = useState<"waiting" | "written" | "stopped">("waiting");
  const isReady = field.value !== null && !isBehind.value && refusal.value === null;
  useEffect(() => {
    if (!isReady) return;
    let isGone = false;
    setState("waiting");
    void takeSheet("cab.html").then((html) => {
      if (isGone || !host.current) return;
      if (html !== null) showDocument(host.current, html);
      setState(html === null ? "stopped" : "written");
    });
    return () => {
      isGone = true;
    };
  }, [isReady]);
  const isMissing = state !== "written" || refusal.value !== null;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by key
    <section class="paper-view" id="plat" aria-label="Cab sheet as printed" tabIndex={0}>
      {isMissing && <p class="second">{missingWords(state === "stopped")}</p>}
      <div ref={host} class="printed" hidden={isMissing} />
    </section>
  );
}

function missingWords(isStopped: boolean): string {
  if (refusal.value) return "There is no cab sheet: the plan as it stands is not worked out.";
  return isStopped ? "The cab sheet was not written." : "Being written.";
}
