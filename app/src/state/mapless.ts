import { type Signal, signal } from "@preact/signals";

/** This browser draws no map: everything else on the page works. */
export const isMapless: Signal<boolean> = signal(false);

/** Whether a map could be drawn here at all. */
export const canDraw = (): boolean => document.createElement("canvas").getContext("webgl2") !== null;
