"""Holds our chances for the next roof against scipy: its negative-binomial distribution, and for a few counts the
Poisson chance averaged over the Gamma distribution by numerical integration, which shares no formula with ours."""

import json
import math
import sys

from scipy.integrate import quad
from scipy.stats import gamma, nbinom, poisson


def trouble(case):
    shape, rate, squares = (float(case[name]) for name in ("shape", "rate", "squares"))
    chances = [float(chance) for chance in case["chances"]]
    theirs = nbinom(shape, rate / (rate + squares))
    if not math.isclose(float(case["mean"]), theirs.mean(), rel_tol=1e-11):
        return f"mean {case['mean']}, not {theirs.mean()}"
    for count, chance in enumerate(chances):
        if not math.isclose(chance, theirs.pmf(count), rel_tol=1e-9, abs_tol=1e-15):
            return f"P({count}) = {chance}, not {theirs.pmf(count)}"
    if theirs.sf(len(chances) - 1) > 1e-14:
        return f"the chances end too early, at {len(chances) - 1}"
    for level, count in case["covers"]:
        share = float(level)
        if theirs.cdf(count) < share - 1e-12 or (count > 0 and theirs.cdf(count - 1) >= share + 1e-12):
            return f"{count} for {level}, not {theirs.ppf(share)}"
    if shape >= 1:
        rates = gamma(shape, scale=1 / rate)
        low, high = rates.ppf(1e-14), rates.isf(1e-14)
        for count in {0, int(theirs.mean()), int(theirs.mean()) + 3}:
            averaged, _ = quad(
                lambda a_square: poisson.pmf(count, a_square * squares) * rates.pdf(a_square),
                low, high, points=[rates.mean()], limit=400, epsabs=1e-13,
            )
            if abs(averaged - chances[count]) > 1e-9:
                return f"P({count}) = {chances[count]}, but averaged {averaged}"
    return None


cases = json.load(open(sys.argv[1], encoding="utf-8"))
for case in cases:
    found = trouble(case)
    if found:
        sys.exit(f"Gamma({case['shape']}, {case['rate']}) on {case['squares']} squares: {found}")
print(len(cases))
