"""Reads folders that were handed off, with other tools than Tearoff's own, and prints the cells it found as JSON.

frictionless holds every file against datapackage.json: types, constraints, keys between the files, sizes and hashes.
Python's csv and decimal then add the files up again and hold them against control_totals.csv.
"""

import csv
import json
import sys
from collections import defaultdict
from decimal import Decimal
from pathlib import Path

from frictionless import Package, validate

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
