"""Puts money into thirteen weeks from its dates, and holds each week, and the lowest, against ours."""

import json
import sys
from datetime import date, timedelta
from decimal import Decimal

case = json.load(open(sys.argv[1], encoding="utf-8"))
after = date.fromisoformat(case["after"]) + timedelta(days=1)
monday = after - timedelta(days=after.weekday())
flows = [(date.fromisoformat(day), Decimal(amount)) for day, amount in case["flows"]]
cash, closings = Decimal(case["opening"]), []
for number, row in enumerate(case["weeks"]):
    begins, ends = (date.fromisoformat(day) for day in row[:2])
    if begins != monday + timedelta(weeks=number) or ends != begins + timedelta(days=6):
        sys.exit(f"week {number + 1} is not from {begins} to {ends}")
    held = [amount for day, amount in flows if day <= ends and (number == 0 or day >= begins)]
    moved_in = sum((amount for amount in held if amount > 0), Decimal(0))
    moved_out = -sum((amount for amount in held if amount < 0), Decimal(0))
    found = [cash, moved_in, moved_out, cash + moved_in - moved_out]
    if found != [Decimal(amount) for amount in row[2:]]:
        sys.exit(f"week {number + 1} is {found}, not {row[2:]}")
    cash = found[3]
    closings.append(cash)
if len(closings) != 13 or closings.index(min(closings)) != case["lowest"]:
    sys.exit(f"the lowest is week {closings.index(min(closings))}, not {case['lowest']}")
