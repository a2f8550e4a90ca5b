import type { Highs, ModelData, VariableType } from "highs";

export type { Highs } from "highs";

/** Where the solver finds its WebAssembly. */
export interface SolverOptions {
  /** Bytes of highs.wasm, where the loader cannot find the file beside itself. */
  readonly wasmBinary?: Uint8Array<ArrayBuffer>;
  /** Address of highs.wasm, the same. */
  readonly locateFile?: (file: string) => string;
}

let loaded: Promise<Highs> | null = null;

/**
 * The HiGHS solver in WebAssembly; about 3.5 MB, so it is loaded when a programme has to be solved and not before, and
 * kept from then on. The options of the first call hold.
 */
export function loadSplitSolver(options: SolverOptions = {}): Promise<Highs> {
  loaded ??= load(options);
  return loaded;
}

async function load(options: SolverOptions): Promise<Highs> {
  // The types of the package describe its CommonJS form; at run time the default export is the loader itself.
  const module: { readonly default: unknown } = await import("highs");
  return await (module.default as (options: SolverOptions) => Promise<Highs>)(options);
}

/** A linear programme under construction: minimize cost x subject to bounds and rows; columns and rows by number. */
export class Programme {
  readonly #cost: number[] = [];
  readonly #lower: number[] = [];
  readonly #upper: number[] = [];
  readonly #type: VariableType[] = [];
  readonly #rowLower: number[] = [];
  readonly #rowUpper: number[] = [];
  readonly #starts: number[] = [0];
  readonly #indices: number[] = [];
  readonly #values: number[] = [];

  column(cost: number, lower: number, upper: number, type: VariableType = 0): number {
    this.#lower.push(lower);
    this.#upper.push(upper);
    this.#type.push(type);
    return this.#cost.push(cost) - 1;
  }

  row(lower: number, upper: number, entries: readonly (readonly [column: number, value: number])[]): number {
    for (const [column, value] of entries) {
      if (value === 0) continue;
      this.#indices.push(column);
      this.#values.push(value);
    }
    this.#starts.push(this.#indices.length);
    this.#rowLower.push(lower);
    return this.#rowUpper.push(upper) - 1;
  }

  get hasChoices(): boolean {
    return this.#type.some((type) => type !== 0);
  }

  /** The same programme with each semi-continuous column held at 0 or at its range, as `values` say. */
  withChoices(values: Float64Array): ModelData {
    const data = this.data();
    const colLower = this.#lower.map((low, i) => (this.#type[i] === 2 && values[i]! < low / 2 ? 0 : low));
    const colUpper = this.#upper.map((high, i) =>
      this.#type[i] === 2 && values[i]! < this.#lower[i]! / 2 ? 0 : high,
    );
    const { integrality: _, ...linear } = data;
    return { ...linear, colLower, colUpper };
  }

  data(): ModelData {
    const numCols = this.#cost.length;
    const numRows = this.#rowLower.length;
    return {
      numCols,
      numRows,
      colCost: this.#cost,
      colLower: this.#lower,
      colUpper: this.#upper,
      rowLower: this.#rowLower,
      rowUpper: this.#rowUpper,
      ...(this.hasChoices ? { integrality: this.#type } : {}),
      matrix: {
        format: "csr",
        numRows,
        numCols,
        starts: this.#starts,
        indices: this.#indices,
        values: this.#values,
      },
    };
  }
}

interface Solved {
  readonly objective: number;
  readonly values: Float64Array;
  /** Change of the objective for one more on the right-hand side of each row. */
  readonly rowDuals: Float64Array;
}

const OPTIMAL = 7;
const WORDS: Readonly<Record<number, string>> = {
  8: "infeasible",
  9: "unbounded or infeasible",
  13: "time limit",
};

/**
 * Solves to optimality, or throws a plain error: the programmes here always have a solution, so anything else is our
 * bug, or a time limit of 60 s. With semi-continuous columns the choice is solved first, then the linear rest for its duals.
 */
export function solveProgramme(highs: Highs, programme: Programme): Solved {
  const first = run(highs, programme.data());
  return programme.hasChoices ? run(highs, programme.withChoices(first.values)) : first;
}

/** Columns below which presolve costs more than it saves; a field has some hundreds. */
const SMALL_COLUMNS = 3_000;

function run(highs: Highs, data: ModelData): Solved {
  return highs.withModel(data, (model) => {
    model.options.set({
      output_flag: false,
      time_limit: 60,
      mip_rel_gap: 0,
      // A field's programme is solved sooner than it is made smaller.
      presolve: data.numCols < SMALL_COLUMNS ? "off" : "choose",
    });
    model.run();
    const status = model.getModelStatus();
    if (status !== OPTIMAL)
      throw new Error(`the solver stopped with status ${status} (${WORDS[status] ?? "see its list"})`);
    const { colValue, rowDual } = model.getSolution();
    return { objective: model.getObjectiveValue(), values: colValue, rowDuals: rowDual };
  });
}
