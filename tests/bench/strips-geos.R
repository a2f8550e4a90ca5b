# The cut of strips.bench.ts by GEOS: slabs first, then each slab's pieces by columns, both through the spatial index of
# st_intersection, which is the faster of the two forms (the other: every cell with the whole field).
# Reads a JSON list of {name, wkt, widthM, lengthM, minX, maxX, minY, maxY}; prints name, CPU seconds (least of `runs`),
# pieces, area. Run by strips.bench.ts.
suppressMessages(library(sf))
args <- commandArgs(trailingOnly = TRUE)
jobs <- jsonlite::fromJSON(args[1])
runs <- as.integer(args[2])

box <- function(x0, x1, y0, y1) {
  st_polygon(list(cbind(c(x0, x1, x1, x0, x0), c(y0, y0, y1, y1, y0))))
}

cut_field <- function(land, job) {
  k <- seq(floor(job$minX / job$widthM + 0.5), floor(job$maxX / job$widthM + 0.5))
  j <- seq(floor(job$minY / job$lengthM), floor(job$maxY / job$lengthM))
  slabs <- st_sfc(lapply(k, function(i) {
    box((i - 0.5) * job$widthM, (i + 0.5) * job$widthM, job$minY - 1, job$maxY + 1)
  }))
  columns <- st_sfc(lapply(j, function(i) {
    box(job$minX - 1, job$maxX + 1, i * job$lengthM, (i + 1) * job$lengthM)
  }))
  st_intersection(st_intersection(slabs, land), columns)
}

for (n in seq_len(nrow(jobs))) {
  job <- as.list(jobs[n, ])
  land <- st_as_sfc(job$wkt)
  best <- Inf
  for (run in seq_len(runs)) {
    before <- proc.time()
    pieces <- cut_field(land, job)
    spent <- proc.time() - before
    best <- min(best, spent[["user.self"]] + spent[["sys.self"]])
  }
  areas <- as.numeric(st_area(pieces))
  cat(job$name, best, sum(areas > 0), format(sum(areas), digits = 17), "\n")
}
