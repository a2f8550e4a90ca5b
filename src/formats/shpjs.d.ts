declare module "shpjs" {
  export interface ShpjsGeometry {
    readonly type: string;
    readonly coordinates: unknown;
  }
  /** Shapes in file order; null for a null shape. Reading stops without an error at a record cut short. */
  export function parseShp(shp: DataView | ArrayBufferView, prj?: string): (ShpjsGeometry | null)[];
  /** Rows in file order, deleted ones too; a blank number is NaN. */
  export function parseDbf(
    dbf: DataView | ArrayBufferView,
    cpg?: string,
  ): Record<string, string | number | boolean | Date>[];
}
