# Answers kriging tasks from standard input with R's gstat, one line each, and counts its processor time:
# what (grid | loo), samples, cells a side, model, range, block side (0 = point), side of the field, file in, file out
suppressMessages({
  library(sp)
  library(gstat)
})
cat("versions", paste0(R.version$major, ".", R.version$minor), as.character(packageVersion("gstat")), "\n")
flush(stdout())
processor <- function(work) sum(system.time(work)[c("user.self", "sys.self")])
input <- file("stdin", "r")
while (length(line <- readLines(input, 1)) > 0) {
  task <- strsplit(line, "\t")[[1]]
  n <- as.integer(task[2])
  k <- as.integer(task[3])
  side <- as.numeric(task[7])
  numbers <- readBin(task[8], "double", 3 * n)
  samples <- data.frame(x = numbers[1:n], y = numbers[n + 1:n], z = numbers[2 * n + 1:n])
  coordinates(samples) <- ~ x + y
  model <- vgm(0.8, task[4], as.numeric(task[5]), 0.2)
  if (task[1] == "loo") {
    seconds <- processor(found <- krige.cv(z ~ 1, samples, model, verbose = FALSE, debug.level = 0))
  } else {
    centres <- (1:k - 0.5) * side / k
    cells <- expand.grid(x = centres, y = centres)
    coordinates(cells) <- ~ x + y
    block <- as.numeric(task[6])
    seconds <- processor(
      found <- if (block > 0) {
        krige(z ~ 1, samples, cells, model, block = c(block, block), debug.level = 0)
      } else {
        krige(z ~ 1, samples, cells, model, debug.level = 0)
      }
    )
  }
  writeBin(c(found$var1.pred, found$var1.var), task[9])
  cat("done", seconds, "\n")
  flush(stdout())
}
