import { useEffect, useState } from "preact/hooks";
import { askForFiles } from "./choose-files.ts";
import { listScenarios, openScenario, type Scenarios } from "./fetched.ts";

/** No field yet: drop files, choose files, or open a ready scenario. */
export function EmptySheet() {
  const [scenarios, setScenarios] = useState<Scenarios>({});
  useEffect(() => void listScenarios().then(setScenarios), []);
  return (
    <section class="empty" aria-label="Begin">
      <h2>No field yet</h2>
      <p>Drop a boundary, a guidance line, a lab file, a folder or a zip anywhere.</p>
      <div class="actions">
        <button type="button" class="action" onClick={askForFiles}>
          Choose files
        </button>
      </div>
      <p>Or open a ready scenario:</p>
      <div class="actions">
        {Object.entries(scenarios)
          .toSorted(([, a], [, b]) => a.length - b.length)
          .map(([name, paths]) => (
            <button key={name} type="button" class="aside" onClick={() => void openScenario(name, paths)}>
              {name.replaceAll("-", " ")}
            </button>
          ))}
      </div>
      <p class="second small">Needs no internet while bermplan serve runs. Nothing leaves this computer.</p>
    </section>
  );
}
