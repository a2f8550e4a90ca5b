/** The map library by itself: it begins in a task of its own, before our code that draws with it. */
export { Map as MapLibre } from "maplibre-gl";
