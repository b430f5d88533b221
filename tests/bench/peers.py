"""What others take for the same work, in seconds, as one JSON object.

`peers.py sums FILE` groups every line of cost of a ledger by job, code and month, by DuckDB and by polars, each from
its own columns in memory. `peers.py csv FILE` reads a CSV of hours by polars, checks its types and writes it to SQLite.
`peers.py spreadsheet FOLDER` has LibreOffice open every CSV of a hand-off, sum the columns of amounts and write it again.
"""

import json
import pathlib
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time

LINES = """
SELECT job, code, substr(date, 1, 7), hours_e4 FROM time_entry
UNION ALL
SELECT l.job, l.code, substr(b.date, 1, 7), l.amount_cents FROM bill_line l JOIN bill b ON b.id = l.fact
UNION ALL
SELECT job, code, substr(date, 1, 7), amount_cents FROM direct_cost
"""


def median(runs, work):
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return sorted(times)[runs // 2]


def sums(path):
    import duckdb
    import polars

    rows = sqlite3.connect(path).execute(LINES).fetchall()
    numbers = {}
    for job, code, month, _ in rows:
        for name in (job, code, month):
            numbers.setdefault(name, len(numbers))
    columns = {
        "job": [numbers[row[0]] for row in rows],
        "code": [numbers[row[1]] for row in rows],
        "month": [numbers[row[2]] for row in rows],
        "amount": [row[3] for row in rows],
    }
    frame = polars.DataFrame(columns)
    base = duckdb.connect()
    with tempfile.TemporaryDirectory() as folder:
        file = f"{folder}/lines.parquet"
        frame.write_parquet(file)
        base.execute(f"CREATE TABLE lines AS SELECT * FROM read_parquet('{file}')")
    grouped = "SELECT job, code, month, sum(amount) FROM lines GROUP BY job, code, month"
    by = ["job", "code", "month"]
    return {
        "lines": len(rows),
        "duckdb": median(7, lambda: base.execute(grouped).fetchall()),
        "polars": median(7, lambda: frame.group_by(by).agg(polars.col("amount").sum()).rows()),
    }


def csv(path):
    import polars

    def work():
        with tempfile.TemporaryDirectory() as folder:
            types = {"Hours": polars.Decimal(10, 4)}
            frame = polars.read_csv(path, schema_overrides=types).with_columns(
                polars.col("Date").str.to_date("%Y-%m-%d", strict=True)
            )
            base = sqlite3.connect(f"{folder}/hours.sqlite")
            base.execute("PRAGMA journal_mode = WAL")
            base.execute("PRAGMA synchronous = FULL")
            base.execute("CREATE TABLE hours (date TEXT, person TEXT, job TEXT, code TEXT, hours INTEGER) STRICT")
            rows = frame.with_columns(
                polars.col("Date").dt.to_string("%Y-%m-%d"), (polars.col("Hours") * 10000).cast(polars.Int64)
            ).rows()
            with base:
                base.executemany("INSERT INTO hours VALUES (?, ?, ?, ?, ?)", rows)
            base.close()

    return {"polars": median(3, work)}


def spreadsheet(folder):
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office is None:
        return {}
    # Tokens of the text filter: comma, quotes, UTF-8, from line 1, formulas evaluated as the file is read.
    reads = "CSV:44,34,76,1,,0,false,true,false,false,false,-1,true"
    with tempfile.TemporaryDirectory() as work:
        profile = f"-env:UserInstallation=file://{work}/profile"
        files = []
        for path in sorted(pathlib.Path(folder).glob("*.csv")):
            text = path.read_text(encoding="utf-8-sig").rstrip("\n")
            lines = text.split("\n")
            width = lines[0].count(",") + 1
            letters = [chr(65 + at) if at < 26 else chr(64 + at // 26) + chr(65 + at % 26) for at in range(width)]
            sums_of = ",".join(f"=SUM({letter}2:{letter}{len(lines)})" for letter in letters)
            copy = pathlib.Path(work) / path.name
            copy.write_text(text + "\n" + sums_of + "\n", encoding="utf-8")
            files.append(str(copy))

        def convert(these):
            call = [office, profile, "--headless", "--infilter=" + reads, "--convert-to", "ods", "--outdir", work]
            subprocess.run(call + these, check=True, capture_output=True)

        # The first start makes a profile: it is not counted.
        convert(files[:1])
        return {"libreoffice": median(3, lambda: convert(files)), "files": len(files)}


if __name__ == "__main__":
    what = {"sums": sums, "csv": csv, "spreadsheet": spreadsheet}[sys.argv[1]]
    print(json.dumps(what(sys.argv[2])))
