import {
  createStageCache,
  type FieldResult,
  type FileSource,
  InputError,
  outlinesOf,
  type RunResult,
  run,
} from "#core";
import { bandThreads } from "./band-threads.ts";
import { farmView } from "./farm-view.ts";
import { fieldLine, fieldView, type Sent } from "./field-view.ts";
import { areSame, HeadStart, isEnded } from "./head-start.ts";
import { HeldBefore } from "./map-before.ts";
import { outlineOf } from "./outline.ts";
import { PlaceReader, type Shown } from "./place-reader.ts";
import { isPlanFile } from "./plan-file.ts";
import type { FieldLine, FromEngine, LonLat, NamedFile, ToEngine } from "./protocol.ts";
import { recognise } from "./recognise.ts";
import { partOptions, Superseded } from "./run-part.ts";
import { sourceOf } from "./source-of.ts";
import { isUsersOwn, toldError } from "./told-error.ts";
import { WarmUp } from "./warm-up.ts";
import { againWhile, breathe } from "./yielding.ts";

type Post = (message: FromEngine, transfer?: Transferable[]) => void;
type Work = Extract<ToEngine, { kind: "work" }>;
type Of = Pick<Work, "turn" | "plan" | "answers">;

/** Files are written and read back once the hand has rested this long, ms, and the map is drawn. */
const REST_MS = 600;
/** The map is waited for this long at most, ms. */
const DRAWN_WITHIN_MS = 5_000;

/** Moves are made quick for so long before the files are written, ms; the rest of it comes after. */
const WARM_MS = 400;

/** While a farm is worked out the page hears of its fields this often, ms. */
const TELL_EVERY_MS = 1_500;

/** Results of stages kept: a field has about twenty, a farm of seventy fields fits with a few moves more. */
const STAGES_KEPT = 2_000;

/**
 * Holds the plan's files, the stages' results and what the page was sent. Newer work ends older work at the next
 * border between stages; what was worked out till then stays in the cache.
 */
export class Engine {
  private readonly post: Post;
  private readonly parallel = bandThreads();
  private readonly warmUp = new WarmUp();
  private head: HeadStart | null = null;
  private cache = createStageCache(STAGES_KEPT);
  private files: ReadonlyMap<string, Uint8Array> = new Map();
  private source: FileSource = sourceOf(new Map());
  private sent: Sent = { ground: null, passes: null };
  private sentField = "";
  private newest = 0;
  private lastTurn = 0;
  /** The field whose files were written and read back for the plan as it is. */
  private writtenField: string | null = null;
  /** What the outlines told were made from: the files, and the plan's boundaries and lines. */
  private outlined = "";
  private tellDrawn: () => void = () => {};
  private whenDrawn: Promise<void> = Promise.resolve();
  private shown: Shown | null = null;
  private places: PlaceReader | null = null;
  /** The state compared with, while the page shows it. */
  readonly held: HeldBefore = new HeldBefore();

  constructor(post: Post) {
    this.post = post;
  }

  /** Begin on a saved plan before the page asks for it; what is no saved plan waits for the page. */
  ahead({ files, field }: Extract<ToEngine, { kind: "ahead" }>): void {
    if (!files.some(([path]) => isPlanFile(path))) return;
    try {
      const { plan, files: named } = recognise({ name: "", date: "", files, answers: {}, joins: null });
      this.open(named);
      this.head = new HeadStart(plan, this.source, field, {
        ...{ cache: this.cache, parallel: this.parallel },
        // Told to whoever waits for it.
        onProgress: (progress) => this.post({ kind: "progress", turn: this.lastTurn, progress }),
      });
    } catch (error) {
      // The page asks for the same again, and is told then.
      if (!(error instanceof InputError)) throw error;
    }
  }

  open(files: readonly NamedFile[]): void {
    if (this.head && areSame(this.files, files)) return;
    this.head?.stop();
    this.head = null;
    this.files = new Map(files);
    this.source = sourceOf(this.files);
    this.cache = createStageCache(STAGES_KEPT);
    this.shown = null;
    this.places = null;
    this.outlined = "";
    this.held.letGo();
    this.forgetSent();
  }

  /** Heavy work that nobody waits for begins after this. */
  drawn(): void {
    this.tellDrawn();
  }

  /** The chosen field's rates first, then the whole farm's, then the chosen field's files, written and read back. */
  async work(work: Work): Promise<void> {
    const mine = ++this.newest;
    const { turn, look } = work;
    this.lastTurn = turn;
    if (work.wholeFarm) this.writtenField = null;
    await breathe();
    try {
      await this.outline(work);
      await this.head?.joinedBy(work.plan, work.answers);
      this.head = null;
      await this.pauseFor(mine);
      let chosen: RunResult | null = null;
      if (look.field !== null) {
        if (look.field !== this.sentField) this.forgetSent();
        this.sentField = look.field;
        const files = work.wholeFarm || this.writtenField !== look.field ? "later" : "written";
        chosen = await this.runPart(work, mine, [look.field], files).catch((error: unknown) => {
          if (work.plan.fields.length === 1 || !isUsersOwn(error)) throw error;
          // The other fields go on.
          this.post(toldError(turn, error));
          return null;
        });
        if (chosen) this.show(work, chosen, files === "written");
      }
      if (work.wholeFarm) {
        await this.pauseFor(mine);
        const lines: FieldLine[] = [];
        let toldAt = performance.now();
        const tellOf = (field: FieldResult) => {
          lines.push(fieldLine(work.plan, field));
          if (performance.now() - toldAt < TELL_EVERY_MS) return;
          toldAt = performance.now();
          this.post({ kind: "farm-so-far", turn, fields: lines.slice() });
        };
        // A farm of one field is that field.
        const isWhole = chosen !== null && work.plan.fields.length === 1;
        const farm = isWhole ? chosen! : await this.runPart(work, mine, [], "later", tellOf);
        this.post({ kind: "farm", turn, farm: farmView(farm) });
      }
      if (chosen && look.field !== null && this.writtenField !== look.field) {
        await this.pauseFor(mine, REST_MS);
        await Promise.race([this.whenDrawn, new Promise((late) => setTimeout(late, DRAWN_WITHIN_MS))]);
        await this.pauseFor(mine);
        await this.warm(work, mine, WARM_MS);
        this.show(work, await this.runPart(work, mine, [look.field], "written"), true);
        this.writtenField = look.field;
      }
      this.post({ kind: "done", turn });
      await this.pauseFor(mine, REST_MS);
      await this.warm(work, mine, DRAWN_WITHIN_MS);
      // Code of sheets and files, while the server is there.
      await Promise.allSettled([import("./season-desk.ts"), import("./carry-off.ts")]);
    } catch (error) {
      if (!isEnded(error)) throw error;
      this.post({ kind: "stopped", turn });
    }
  }

  /** Nobody waits: moves to come are made quick. */
  private async warm({ answers, look }: Work, mine: number, forMs: number): Promise<void> {
    const { cache, parallel, shown } = this;
    const isWanted = () => this.newest === mine;
    if (shown && shown.field.field.id === look.field)
      await this.warmUp.go(shown, this.source, look, { answers, cache, parallel, isWanted }, forMs);
  }

  private async pauseFor(mine: number, ms = 0): Promise<void> {
    if (ms === 0) await breathe();
    else await new Promise((rested) => setTimeout(rested, ms));
    if (this.newest !== mine) throw new Superseded();
  }

  readOut(turn: number, at: LonLat): void {
    const { shown } = this;
    if (!shown) return;
    this.places ??= new PlaceReader(shown);
    const before = this.held.readOut(at, shown.field.field.id);
    this.post({ kind: "read-out", turn, before, at, ...this.places.at(at) });
  }

  /** The farm by another state of the plan; nothing of it is shown on the map. Newer work ends it. */
  async compare({ turn, plan, answers }: Extract<ToEngine, { kind: "compare" }>): Promise<void> {
    const result = await this.ofEarlier({ turn, plan, answers }, []);
    if (result) this.post({ kind: "compared", turn, farm: farmView(result) });
  }

  /** The layer on the plat by an earlier state of the plan. Newer work ends it. */
  async before(asked: Extract<ToEngine, { kind: "before" }>): Promise<void> {
    const result = await this.ofEarlier(asked, [asked.field]);
    if (!result) return;
    this.post({ kind: "map-before", turn: asked.turn, before: this.held.tell(result, asked, this.shown) });
  }

  private ofEarlier(of: Of, only: readonly string[]): Promise<RunResult | null> {
    return this.runPart(of, this.newest, only, "later").catch((error) => {
      if (!isEnded(error)) throw error;
      this.post({ kind: "stopped", turn: of.turn });
      return null;
    });
  }

  /** Files are put together by code that is loaded when it is wanted. */
  async takeAway(message: Extract<ToEngine, { kind: "take-away" }>): Promise<void> {
    const { turn, plan, answers, what } = message;
    const { carryOff, planFolder } = await import("./carry-off.ts");
    if (what.kind === "plan") {
      const taken = planFolder(plan, this.files);
      return this.post({ kind: "taken", turn, ...taken }, [taken.bytes.buffer]);
    }
    const begun = this.newest;
    const result = await this.inTheEnd({ turn, plan, answers }, [], "written");
    if (what.kind === "prescriptions" && result.incomplete === "" && this.newest === begun) {
      this.post({ kind: "farm", turn: this.lastTurn, farm: farmView(result) });
    }
    const taken = await carryOff(result, what, this.files);
    this.post({ kind: "taken", turn, ...taken }, [taken.bytes.buffer]);
  }

  /** The whole farm's files, written and read back, into a folder that the user chose. */
  async stick({ turn, plan, answers, root, errand }: Extract<ToEngine, { kind: "stick" }>): Promise<void> {
    const [{ builtFiles }, { putOnStick }] = await Promise.all([
      import("./carry-off.ts"),
      import("../stick/put-on-stick.ts"),
    ]);
    const result = await this.inTheEnd({ turn, plan, answers }, [], "written");
    const build = sourceOf(builtFiles(result, this.files));
    const told = await putOnStick(root, build, plan, result.ledger.entries, errand, {
      onBegun: (record) => this.post({ kind: "stick-begun", turn, record }),
      onProgress: (done, total) => this.post({ kind: "stick-progress", turn, done, total }),
    });
    this.post({ kind: "stick-written", turn, told });
  }

  /** Fills, season, order, logs: from rates without files, of the chosen field or of the farm. */
  async season({ turn, plan, answers, ask }: Extract<ToEngine, { kind: "season" }>): Promise<void> {
    const { seasonTold } = await import("./season-desk.ts");
    const only = "field" in ask ? [ask.field] : [];
    const result = await this.inTheEnd({ turn, plan, answers }, only, "later");
    this.post({ kind: "season-told", turn, told: await seasonTold(result, ask, this.files) });
  }

  /** The fields' outlines, before anything is worked out; once for the same files and boundaries. */
  private async outline({ plan, answers }: Work): Promise<void> {
    const drawn = JSON.stringify(
      plan.fields.map(({ id, boundary, guidance, driveAlong }) => [id, boundary, guidance, driveAlong]),
    );
    if (drawn === this.outlined) return;
    const found = await outlinesOf(plan, this.source, { answers, cache: this.cache });
    this.outlined = drawn;
    this.post({ kind: "outlines", outlines: [...found].map(([id, outline]) => outlineOf(id, outline)) });
  }

  /** The plan as it was when it was asked for: begun again for as long as newer work comes between. */
  private inTheEnd(of: Of, only: readonly string[], files: "written" | "later"): Promise<RunResult> {
    return againWhile(() => this.runPart(of, this.newest, only, files), isEnded);
  }

  private async runPart(
    { turn, plan, answers }: Of,
    mine: number,
    only: readonly string[],
    files: "written" | "later",
    onField?: (field: FieldResult) => void,
  ): Promise<RunResult> {
    const options = partOptions({
      ...{ answers, only, files, onField, cache: this.cache, parallel: this.parallel },
      isWanted: () => this.newest === mine,
      onProgress: (progress) => this.post({ kind: "progress", turn, progress }),
    });
    return run(plan, this.source, options);
  }

  private show({ turn, look }: Work, result: RunResult, isRested: boolean): void {
    const field = result.fields.find((one) => one.field.id === look.field);
    if (!field) return;
    this.shown = { plan: result.plan, field, look };
    this.places = null;
    this.whenDrawn = new Promise((drawn) => {
      this.tellDrawn = drawn;
    });
    this.post({ kind: "field", turn, field: fieldView(result.plan, field, look, this.sent, isRested) });
  }

  private forgetSent(): void {
    this.sent = { ground: null, passes: null };
    this.sentField = "";
  }
}
