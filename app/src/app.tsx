import { effect } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { drop, takeDrop } from "./open/drop-state.ts";
import { EmptySheet } from "./open/empty-sheet.tsx";
import { FilesSheet, filesShown } from "./open/files-sheet.tsx";
import { gatherDrop } from "./open/gather.ts";
import { ImportSheet } from "./open/import-sheet.tsx";
import { Foot } from "./parts/foot.tsx";
import { Head } from "./parts/head.tsx";
import { InTurn } from "./parts/in-turn.tsx";
import { IndexOfSheets } from "./parts/index-of-sheets.tsx";
import { Messages } from "./parts/messages.tsx";
import { titleOf } from "./parts/sheets.ts";
import { Plat } from "./plat/plat.tsx";
import { AppliedSheet } from "./sheets/applied.tsx";
import { CabSheetBench, CabSheetPage } from "./sheets/cab-sheet.tsx";
import { FarmSheet } from "./sheets/farm.tsx";
import { FillsSheet } from "./sheets/fills.tsx";
import { NeedSheet } from "./sheets/need.tsx";
import { OrderSheet } from "./sheets/order.tsx";
import { SoilSheet } from "./sheets/soil.tsx";
import { SplitSheet } from "./sheets/split.tsx";
import { StripsSheet } from "./sheets/strips.tsx";
import { isOfBefore, scope } from "./state/figures.ts";
import { planField } from "./state/look.ts";
import { isOpening, plan } from "./state/opened.ts";
import { here, type SheetName } from "./state/route.ts";
import { settings } from "./state/settings.ts";

const benches: Readonly<Record<SheetName, () => preact.JSX.Element | null>> = {
  farm: FarmSheet,
  soil: SoilSheet,
  need: NeedSheet,
  split: SplitSheet,
  strips: StripsSheet,
  fills: FillsSheet,
  order: OrderSheet,
  "cab-sheet": CabSheetBench,
  applied: AppliedSheet,
};

/** The whole page: head, index of sheets, the open sheet, balance. */
export function App() {
  const isDragging = useDrop();
  useEffect(
    () =>
      effect(() => {
        document.documentElement.dataset.theme = settings.value.theme;
        document.title = documentTitle();
      }),
    [],
  );
  const { sheet } = here.value;
  const Sheet = benches[sheet];
  const isPaper = sheet === "cab-sheet";
  const isOpen = plan.value !== null;
  // The plat stands before its plan, so that map and maps are made side by side.
  const isDropShown = drop.value !== null && !isOpening.value;
  const areFilesShown = isOpen && filesShown.value && !isDropShown;
  const isPlatShown = (isOpen || isOpening.value) && !isDropShown && !areFilesShown;
  return (
    <div class={`page${isDragging ? " dragging" : ""}`}>
      <button type="button" class="skip" onClick={() => jump("plat")}>
        To the plat
      </button>
      <button type="button" class="skip" onClick={() => jump("bench")}>
        To the bench
      </button>
      <button type="button" class="skip" onClick={() => jump("balance")}>
        To the balance
      </button>
      <Head />
      <InTurn first={0}>
        <IndexOfSheets />
        <main data-sheet={sheet} data-of-before={isOfBefore.value}>
          {isPlatShown && (isPaper ? isOpen && <CabSheetPage /> : <Plat />)}
          {isOpen && isPlatShown && (
            <InTurn first={0}>
              <Sheet />
            </InTurn>
          )}
          {areFilesShown && <FilesSheet />}
          {isDropShown ? <ImportSheet /> : !isPlatShown && !areFilesShown && <EmptySheet />}
          <Messages />
          {isDragging && <p class="drop-words">Drop to read</p>}
        </main>
        <Foot />
      </InTurn>
    </div>
  );
}

function jump(id: string): void {
  const target = document.getElementById(id);
  target?.setAttribute("tabindex", "-1");
  target?.focus();
}

function documentTitle(): string {
  const of = plan.value;
  if (!of) return "bermplan";
  const name = scope.value === "farm" ? of.name : planField.value?.name;
  return `${titleOf(here.value.sheet)}, ${name ?? of.name} - bermplan`;
}

/** Files may be dropped anywhere on the page. */
function useDrop(): boolean {
  const [isDragging, setDragging] = useState(false);
  useEffect(() => {
    let leaving: ReturnType<typeof setTimeout> | undefined;
    const over = (event: DragEvent) => {
      if (!event.dataTransfer?.types.includes("Files")) return;
      event.preventDefault();
      clearTimeout(leaving);
      setDragging(true);
    };
    const leave = () => {
      clearTimeout(leaving);
      leaving = setTimeout(() => setDragging(false), 120);
    };
    const dropped = (event: DragEvent) => {
      event.preventDefault();
      setDragging(false);
      if (event.dataTransfer) void takeDrop(gatherDrop(event.dataTransfer));
    };
    addEventListener("dragover", over);
    addEventListener("dragleave", leave);
    addEventListener("drop", dropped);
    return () => {
      removeEventListener("dragover", over);
      removeEventListener("dragleave", leave);
      removeEventListener("drop", dropped);
    };
  }, []);
  return isDragging;
}
