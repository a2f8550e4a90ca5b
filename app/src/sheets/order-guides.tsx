import { counted, guideMarks } from "#core";
import { farm } from "../state/results.ts";

/** The guides behind the order, with what must stand beside their names. */
export function OrderGuides() {
  const guides = farm.value?.guides ?? [];
  return (
    <>
      {guides.map((guide) => {
        const marks = guideMarks(guide);
        const count = guide.fields.length;
        return (
          <p class="small" key={guide.id}>
            <b>Guide:</b> {guide.title}, {counted(count, "field")}
            {marks === "" ? "" : `; ${marks}`}.
          </p>
        );
      })}
    </>
  );
}
