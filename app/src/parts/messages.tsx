import { drop } from "../open/drop-state.ts";
import { openServed } from "../open/fetched.ts";
import { Questions } from "../open/questions.tsx";
import { whatIsServed } from "../open/served.ts";
import { ledgerTold } from "../state/ledgers.ts";
import { ledgersInWords } from "../state/ledgers-met.ts";
import { answers, opened, readOnly } from "../state/opened.ts";
import { questions, trouble } from "../state/results.ts";
import { here } from "../state/route.ts";
import { broughtBack, broughtBackText, foldersNew } from "../state/session.ts";
import { OurFault } from "./our-fault.tsx";
import { TroubleWords } from "./trouble-words.tsx";

/** What stands in the way or was brought back, over the plat's lower edge. */
export function Messages() {
  return (
    <div class="messages">
      {readOnly.value && (
        <p class="message">
          The plan is open in another tab. Here you can look at it as it stood when this tab opened; change it
          there.
        </p>
      )}
      {broughtBack.value && !readOnly.value && drop.value === null && (
        <div class="message" role="status">
          <p>{broughtBackText()}</p>
          <button type="button" onClick={() => (broughtBack.value = null)}>
            Go on
          </button>
          <button type="button" onClick={() => void openLast()}>
            Open the last plan file{broughtBack.value.edit === null ? "" : ", without these edits"}
          </button>
        </div>
      )}
      {foldersNew.value !== null && foldersNew.value === opened.value?.origin && (
        <div class="message" role="status">
          <p>The plan in the folder has changed since the last visit: it is open as it stands there now.</p>
          <button type="button" onClick={() => (foldersNew.value = null)}>
            Close
          </button>
        </div>
      )}
      {ledgerTold.value && (
        <div class="message" role="status">
          <p>{ledgersInWords(ledgerTold.value)}</p>
          <button type="button" onClick={() => (ledgerTold.value = null)}>
            Close
          </button>
        </div>
      )}
      {here.value.unknown && <p class="message">There is no such sheet: this is the farm.</p>}
      {questions.value.length > 0 && (
        <div class="message">
          <Questions
            questions={questions.value}
            isWaiting={false}
            answer={(given) => {
              questions.value = [];
              answers.value = { ...answers.value, ...given };
            }}
          />
        </div>
      )}
      {trouble.value && (
        <div class="message doubt" role="alert">
          {trouble.value.ours ? (
            <OurFault message={trouble.value.message} />
          ) : (
            <TroubleWords of={trouble.value} />
          )}
          <button type="button" onClick={() => (trouble.value = null)}>
            Close
          </button>
        </div>
      )}
    </div>
  );
}

/** The plan as it is in the folder served, or chosen anew. */
async function openLast(): Promise<void> {
  const served = await whatIsServed();
  if (served) return openServed(served);
  const { askForFiles } = await import("../open/choose-files.ts");
  askForFiles();
}
