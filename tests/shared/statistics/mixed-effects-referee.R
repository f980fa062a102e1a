# lme4's answer to crossed effects: for each case the fitted height, variances, likelihood, and the effects themselves.
suppressPackageStartupMessages(library(lme4))
rows <- read.csv(file("stdin"))
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhobeg = 0.2, rhoend = 1e-10, maxfun = 1e5),
                       check.conv.singular = "ignore", check.conv.grad = "ignore")
for (case in unique(rows$case)) {
  one <- rows[rows$case == case, ]
  one$spindle <- factor(one$spindle)
  one$build <- factor(one$build)
  one$pair <- factor(paste(one$spindle, one$build))
  fit <- lmer(value ~ 1 + (1 | spindle) + (1 | build) + (1 | pair), one, REML = FALSE, control = control)
  parts <- as.data.frame(VarCorr(fit))
  variance <- function(group) parts$vcov[parts$grp == group]
  say <- function(name, value) cat(case, name, format(value, digits = 17, scientific = TRUE), "\n", sep = ",")
  say("height", fixef(fit)[[1]])
  for (group in c("spindle", "build", "pair", "Residual")) say(paste("variance", group), variance(group))
  say("likelihood", as.numeric(logLik(fit)))
  for (group in c("spindle", "build")) {
    effects <- ranef(fit)[[group]]
    for (level in rownames(effects)) say(paste("effect", group, level), effects[level, 1])
  }
}
