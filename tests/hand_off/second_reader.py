"""Reads folders that were handed off, with other tools than Tearoff's own, and prints the cells it found as JSON.

frictionless holds every file against datapackage.json: types, constraints, keys between the files, sizes and hashes.
Python's csv and decimal then add the files up again and hold them against control_totals.csv.
"""

import csv
import json
import sys
from collections import defaultdict
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from frictionless import Package, validate

COMES_IN = ["invoice", "retainage", "to-bill", "credit"]
COST = ["material", "labor", "subcontract", "equipment", "disposal", "permit", "other"]


def rows(folder, name):
    with open(folder / f"{name}.csv", newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file, strict=True))


def amount(text):
    return Decimal(text or "0")


def total(rows, column):
    return sum((amount(row[column]) for row in rows), Decimal(0))


def roll_on(folder):
    """The backlog of each job, worked out anew, and how it rolled through the month."""
    for row in rows(folder, "job_results"):
        job = {name: amount(text) for name, text in row.items() if name not in ("job", "stage")}
        if job["backlog"] != job["contract"] - job["earned"]:
            raise SystemExit(f"{folder}: the backlog of {row['job']} is not its contract less what is earned")
        if job["backlog_before"] + job["month_signed"] + job["month_changed"] - job["month_earned"] != job["backlog"]:
            raise SystemExit(f"{folder}: the backlog of {row['job']} does not roll on")
        if job["earned"] - job["cost"] - job["loss_provision"] + job["backlog_profit"] != job["margin"]:
            raise SystemExit(f"{folder}: what {row['job']} made and will make is not its margin")


def at_the_bank(folder):
    """Each line of the bank is the payments that it was matched with."""
    cleared = defaultdict(Decimal)
    for row in rows(folder, "bank_clearing"):
        if (row["cleared"] == "") != (row["line"] == ""):
            raise SystemExit(f"{folder}: {row['source']} cleared by no line, or the other way round")
        if row["line"]:
            cleared[(row["statement_id"], row["line"])] += amount(row["amount"])
    for row in rows(folder, "bank_lines"):
        come = cleared.pop((row["statement_id"], row["line"]), None)
        if come != (amount(row["amount"]) if row["is"] == "payments" else None):
            raise SystemExit(f"{folder}: line {row['line']} of the bank is {row['is']}, and its payments are {come}")
        if (row["is"] == "other") != (row["other"] != ""):
            raise SystemExit(f"{folder}: line {row['line']} of the bank is {row['is']} and {row['other']}")
    if cleared:
        raise SystemExit(f"{folder}: payments cleared by lines that are not there: {dict(cleared)}")


def cent(value):
    return value.quantize(Decimal("0.01"), ROUND_HALF_UP)


def planned_pay(plan, after):
    """What a planned crew is paid, by the day on which it is: Monday to Friday, on the fifth day of the week after."""
    left, day, days = amount(plan["days_left"]), None, defaultdict(Decimal)
    begins = plan["begins"] or plan["begun"]
    if plan["finished"] or not begins or not plan["hour_costs"]:
        return {}
    day = max(date.fromisoformat(begins), after)
    while left > 0:
        if day.weekday() < 5:
            part = min(left, Decimal(1))
            days[day - timedelta(days=day.weekday()) + timedelta(days=11)] += part
            left -= part
        day += timedelta(days=1)
    hours = {paid: part * int(plan["people"]) * amount(plan["hours_a_day"]) for paid, part in days.items()}
    return {paid: cent(worked * amount(plan["hour_costs"])) for paid, worked in hours.items() if worked}


def look_ahead(folder):
    """The thirteen weeks worked out anew: each expected amount from the files that it comes of, then week by week."""
    weeks, expected = rows(folder, "cash_ahead"), rows(folder, "cash_expected")
    habits = {row["customer"]: int(row["days"]) for row in rows(folder, "cash_habits")}
    plans = {row["job"]: row for row in rows(folder, "planned_work")}
    jobs = {row["job"]: row for row in rows(folder, "job_results")}

    def wrong(row, why):
        raise SystemExit(f"{folder}: {row['cause']} of {row['amount']}, {row['text']}: {why}")

    def sum_of(wanted):
        return sum((amount(row["amount"]) for row in expected if wanted(row)), Decimal(0))

    firsts = [date.fromisoformat(row["begins"]) for row in weeks]
    after = month_after(folder)
    if len(weeks) != 13 or firsts[0] != after - timedelta(days=after.weekday()):
        raise SystemExit(f"{folder}: the weeks ahead begin on {firsts[0]}")
    for row in expected:
        due = row["due"] and date.fromisoformat(row["due"])
        day = date.fromisoformat(row["date"])
        if row["cause"] in ("invoice", "retainage", "to-bill") and day != due + timedelta(days=habits[row["who"]]):
            wrong(row, "it does not come as the customer pays")
        if row["cause"] in ("bill", "worked", "crew", "recurring") and day != due:
            wrong(row, "it is not paid when it is due")
        lowers = row["cause"] == "credit" or (row["cause"] == "bill" and row["text"].startswith("credit "))
        if (row["cause"] in COMES_IN) != ((amount(row["amount"]) > 0) != lowers):
            wrong(row, "it goes the other way")
        week = max((day - firsts[0]).days // 7, 0) + 1
        if row["week"] != (str(week) if week <= 13 else ""):
            wrong(row, f"it is in week {row['week']}")
    cash = amount(weeks[0]["opening"])
    for number, row in enumerate(weeks, 1):
        moved = [one for one in expected if one["week"] == str(number)]
        moved_in = sum((amount(one["amount"]) for one in moved if one["cause"] in COMES_IN), Decimal(0))
        moved_out = -sum((amount(one["amount"]) for one in moved if one["cause"] not in COMES_IN), Decimal(0))
        found = [cash, moved_in, moved_out, cash + moved_in - moved_out]
        if found != [amount(row[name]) for name in ("opening", "cash_in", "cash_out", "closing")]:
            raise SystemExit(f"{folder}: week {number} ahead is {found}")
        cash = found[-1]
    if sum_of(lambda row: row["cause"] == "invoice") != total(rows(folder, "receivables"), "open"):
        raise SystemExit(f"{folder}: what comes of invoices is not what is open")
    if -sum_of(lambda row: row["cause"] == "bill") != total(rows(folder, "payables"), "open"):
        raise SystemExit(f"{folder}: what goes for bills is not what is open")
    for job, plan in plans.items():
        pay = planned_pay(plan, after)
        ours = {
            date.fromisoformat(row["date"]): -amount(row["amount"])
            for row in expected
            if row["cause"] == "crew" and row["job"] == job
        }
        if pay != ours:
            raise SystemExit(f"{folder}: the crew of {job} is paid {ours}, not {pay}")
        if not plan["begins"] and not plan["begun"] and not plan["finished"]:
            continue
        result = jobs[job]
        left = max(amount(result["contract"]) - amount(result["billed"]), Decimal(0))
        to_bill = sum_of(lambda row: row["job"] == job and row["text"].split(";")[0].endswith(", to be billed"))
        if to_bill != left:
            raise SystemExit(f"{folder}: {to_bill} is still to be billed of {job}, not {left}")
        buy = max(amount(result["forecast"]) - amount(result["cost"]) - sum(pay.values()), Decimal(0))
        if not plan["finished"] and -sum_of(lambda row: row["job"] == job and row["cause"] == "to-buy") != buy:
            raise SystemExit(f"{folder}: {buy} is still to be bought for {job}")


def month_after(folder):
    """The first day after the folder's month."""
    year, month = map(int, folder.name.split("-part-")[0].rsplit("-", 2)[1:])
    return date(year + month // 12, month % 12 + 1, 1)


def add_up(folder):
    """What the files come to, by the name of the control total."""
    journal = rows(folder, "journal")
    sides = defaultdict(Decimal)
    entries = defaultdict(Decimal)
    for row in journal:
        moved = amount(row["debit"]) - amount(row["credit"])
        sides[row["account"]] += moved
        entries[row["entry"]] += moved
    unbalanced = [entry for entry, moved in entries.items() if moved != 0]
    if unbalanced:
        raise SystemExit(f"{folder}: entries that do not balance: {unbalanced}")
    if total(journal, "debit") != total(journal, "credit"):
        raise SystemExit(f"{folder}: debits are not credits")
    cost = sum((sides[f"cost-{kind}"] for kind in COST), Decimal(0))
    if cost != total(rows(folder, "cost_detail"), "cost"):
        raise SystemExit(f"{folder}: the journal's cost is not the cost in detail")
    invoices = rows(folder, "invoices")
    if total(invoices, "net") != total(rows(folder, "invoice_lines"), "amount"):
        raise SystemExit(f"{folder}: invoices are not their lines")
    pay = rows(folder, "hours_and_pay")
    wages = total(pay, "straight") + total(pay, "premium")
    overhead, paid = rows(folder, "overhead"), rows(folder, "vendor_payments")
    from_bank = [row for row in overhead if row["paid_from"] == "bank"]
    office = total([row for row in overhead if row["paid_from"] == "wages"], "cost")
    if (wages + office, total(pay, "burden")) != (-sides["wages-payable"], -sides["burden-payable"]):
        raise SystemExit(f"{folder}: the journal's pay is not hours and pay, and the office's")
    if sides["overhead"] + sides["discounts-taken"] != total(overhead, "cost"):
        raise SystemExit(f"{folder}: the journal's overhead is not the overhead in detail")
    roll_on(folder)
    at_the_bank(folder)
    look_ahead(folder)
    for row in rows(folder, "budget"):
        profit = Decimal(row["earned"]) - Decimal(row["cost"])
        net = profit - Decimal(row["overhead"])
        if (profit, net) != (Decimal(row["gross_profit"]), Decimal(row["net_profit"])):
            raise SystemExit(f"{folder}: the budget of {row['month']} is not its lines")
    owed, customers = rows(folder, "receivables"), rows(folder, "receivables_by_customer")
    for column in ["open", "retainage"]:
        if total(owed, column) != total(customers, column):
            raise SystemExit(f"{folder}: receivables are not those of the customers: {column}")
    if total(customers, "balance") != total(owed, "open") + total(owed, "retainage") - total(customers, "credits"):
        raise SystemExit(f"{folder}: the customers' balances are not what is open and held, less credits")
    applied, refunds = rows(folder, "payment_allocations"), rows(folder, "refunds")
    of_payments = [row for row in applied if row["payment"]]
    of_credits = [row for row in refunds if row["credit"]]
    return {
        "debits": total(journal, "debit"),
        "cost": cost,
        "billed": total(invoices, "net"),
        "earned": -sides["revenue"],
        "over_billed": -sides["over-billed"],
        "under_billed": sides["under-billed"],
        "loss_provision": -sides["loss-provision"],
        "profit": -sides["revenue"] - cost - sides["loss-expense"],
        "straight": total(pay, "straight"),
        "premium": total(pay, "premium"),
        "burden": total(pay, "burden"),
        "sales_tax": total(invoices, "tax"),
        "retainage_held": total(invoices, "retainage"),
        "retainage_released": total(rows(folder, "retainage_released"), "amount"),
        "applied": total(of_payments, "amount") - total(of_credits, "amount"),
        "bank": total(rows(folder, "payments"), "amount")
        - total(refunds, "amount")
        - total(paid, "amount")
        - total(from_bank, "cost"),
        "bank_lines": total(rows(folder, "bank_lines"), "amount"),
        "bank_cleared": total([row for row in rows(folder, "bank_clearing") if row["cleared"]], "amount"),
        "bank_uncleared": total([row for row in rows(folder, "bank_clearing") if not row["cleared"]], "amount"),
        "payable": -sides["payable"],
        "overhead": total(overhead, "cost"),
        "net_profit": -sides["revenue"] - cost - sides["loss-expense"] - total(overhead, "cost"),
        "receivable": sides["receivable"] + sides["customer-credit"],
        "retainage": sides["retainage-receivable"],
        "hours": total(pay, "hours"),
    }


def check(folder):
    package = folder / "datapackage.json"
    report = validate(str(package))
    if not report.valid:
        problems = report.flatten(["type", "title", "fieldName", "rowNumber", "message"])
        raise SystemExit(f"{folder}: {problems[:5]}")
    described = {resource.path for resource in Package(str(package)).resources}
    found = {path.name for path in folder.iterdir()}
    if found != described | {"datapackage.json", "README.txt"}:
        raise SystemExit(f"{folder}: files not described, or described and missing: {found ^ described}")
    sums = add_up(folder)
    totals = rows(folder, "control_totals")
    if {row["name"] for row in totals} != set(sums):
        raise SystemExit(f"{folder}: control totals {[row['name'] for row in totals]}")
    for row in totals:
        name, part = row["name"], amount(row["this_part"])
        if part != sums[name]:
            raise SystemExit(f"{folder}: {name} is {part} and the files come to {sums[name]}")
        if part + amount(row["earlier_parts"]) != amount(row["month"]) or amount(row["month"]) != amount(row["against"]):
            raise SystemExit(f"{folder}: {name} does not tie: {row}")


def cells(folder):
    found = {}
    for path in sorted(folder.glob("*.csv")):
        with open(path, newline="", encoding="utf-8") as file:
            found[path.name] = list(csv.reader(file, strict=True))
    return found


def main():
    folders = [Path(name) for name in sys.argv[1:]]
    for folder in folders:
        check(folder)
    json.dump([cells(folder) for folder in folders], sys.stdout)


main()
