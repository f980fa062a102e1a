# Weibull regression of lives that were in part cut short, by the survival package: coefficients, scale, likelihood, profile.
suppressPackageStartupMessages(library(survival))
rows <- read.csv(file("stdin"))
control <- survreg.control(rel.tolerance = 1e-13, toler.chol = 1e-14, maxiter = 200)
for (case in unique(rows$case)) {
  one <- rows[rows$case == case, ]
  fit <- survreg(Surv(time, ended) ~ x, one, dist = "weibull", control = control)
  say <- function(name, value) cat(case, name, format(value, digits = 17, scientific = TRUE), "\n", sep = ",")
  say("intercept", coef(fit)[[1]])
  say("slope", coef(fit)[[2]])
  say("scale", fit$scale)
  profile <- function(b) survreg(Surv(time, ended) ~ offset(b * x), one, dist = "weibull", control = control)$loglik[[1]]
  best <- fit$loglik[[2]]
  off <- function(b) 2 * (best - profile(b)) - qchisq(0.95, 1)
  se <- sqrt(vcov(fit)[2, 2])
  b <- coef(fit)[[2]]
  say("low", uniroot(off, c(b - 8 * se, b), tol = 1e-10)$root)
  say("high", uniroot(off, c(b, b + 8 * se), tol = 1e-10)$root)
}
