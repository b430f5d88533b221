-- Totals stored so that the month end need not add up every fact. Each can be thrown away and worked out again
-- from the facts (`Ledger::rebuild`); a test compares. All are sums booked in one month, so that any month end is a
-- sum over months. A missing reference inside a key is the empty blob.

-- What a job's code was contracted, cost and has ordered.
CREATE TABLE total_code (
    job BLOB NOT NULL,
    code BLOB NOT NULL,
    month INTEGER NOT NULL,
    -- The budget: the contract and approved changes of the customer's own.
    budget_material_cents INTEGER NOT NULL DEFAULT 0,
    budget_labor_cents INTEGER NOT NULL DEFAULT 0,
    budget_subcontract_cents INTEGER NOT NULL DEFAULT 0,
    budget_rest_cents INTEGER NOT NULL DEFAULT 0,
    -- Of the material, the part counted in the unit in which the code is bought, and how much that is.
    budget_counted_cents INTEGER NOT NULL DEFAULT 0,
    budget_quantity_e4 INTEGER NOT NULL DEFAULT 0,
    budget_hours_e4 INTEGER NOT NULL DEFAULT 0,
    budget_units_e4 INTEGER NOT NULL DEFAULT 0,
    -- Of that budget, what approved changes added; and beside it, what approved changes allow for hidden conditions.
    changed_cents INTEGER NOT NULL DEFAULT 0,
    hidden_budget_cents INTEGER NOT NULL DEFAULT 0,
    -- Spent.
    material_cents INTEGER NOT NULL DEFAULT 0,
    labor_cents INTEGER NOT NULL DEFAULT 0,
    subcontract_cents INTEGER NOT NULL DEFAULT 0,
    equipment_cents INTEGER NOT NULL DEFAULT 0,
    disposal_cents INTEGER NOT NULL DEFAULT 0,
    permit_cents INTEGER NOT NULL DEFAULT 0,
    other_cents INTEGER NOT NULL DEFAULT 0,
    -- Of the material, the part that bills count in that unit, and how much that is.
    counted_cents INTEGER NOT NULL DEFAULT 0,
    quantity_e4 INTEGER NOT NULL DEFAULT 0,
    hours_e4 INTEGER NOT NULL DEFAULT 0,
    units_e4 INTEGER NOT NULL DEFAULT 0,
    -- Ordered and not yet received.
    committed_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (job, code, month)
) STRICT, WITHOUT ROWID;

-- Of a code's counted material, what is of one part: as contracted, and how much of it bills count.
CREATE TABLE total_part (
    job BLOB NOT NULL,
    code BLOB NOT NULL,
    part BLOB NOT NULL,
    month INTEGER NOT NULL,
    budget_counted_cents INTEGER NOT NULL DEFAULT 0,
    budget_quantity_e4 INTEGER NOT NULL DEFAULT 0,
    quantity_e4 INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (job, code, part, month)
) STRICT, WITHOUT ROWID;

-- A job's price and money.
CREATE TABLE total_job (
    job BLOB NOT NULL,
    month INTEGER NOT NULL,
    price_cents INTEGER NOT NULL DEFAULT 0,
    change_price_cents INTEGER NOT NULL DEFAULT 0,
    hidden_price_cents INTEGER NOT NULL DEFAULT 0,
    billed_cents INTEGER NOT NULL DEFAULT 0,
    tax_cents INTEGER NOT NULL DEFAULT 0,
    held_cents INTEGER NOT NULL DEFAULT 0,
    released_cents INTEGER NOT NULL DEFAULT 0,
    received_cents INTEGER NOT NULL DEFAULT 0,
    -- Facts of any kind booked and their reversals, so that a job's months of activity are known: none where each fact
    -- was taken back in its own month.
    facts INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (job, month)
) STRICT, WITHOUT ROWID;
CREATE INDEX total_job_by_month ON total_job (month, job, facts);

-- Hours by crew and by the day on which they were worked, for what goes by the settings of its own day: crew-days and
-- overhead. The month is the one in which they are booked.
CREATE TABLE total_crew (
    job BLOB NOT NULL,
    crew BLOB NOT NULL,
    day TEXT NOT NULL,
    month INTEGER NOT NULL,
    hours_e4 INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (job, crew, day, month)
) STRICT, WITHOUT ROWID;

-- What a hidden condition cost.
CREATE TABLE total_condition (
    condition BLOB NOT NULL,
    code BLOB NOT NULL,
    month INTEGER NOT NULL,
    material_cents INTEGER NOT NULL DEFAULT 0,
    labor_cents INTEGER NOT NULL DEFAULT 0,
    subcontract_cents INTEGER NOT NULL DEFAULT 0,
    rest_cents INTEGER NOT NULL DEFAULT 0,
    counted_cents INTEGER NOT NULL DEFAULT 0,
    quantity_e4 INTEGER NOT NULL DEFAULT 0,
    hours_e4 INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (condition, code, month)
) STRICT, WITHOUT ROWID;

-- Labor cost by person, week, job, code and condition, in the month of the hours: the working of `labor_cents`.
CREATE TABLE total_labor (
    person BLOB NOT NULL,
    week TEXT NOT NULL,
    job BLOB NOT NULL,
    code BLOB NOT NULL,
    condition BLOB NOT NULL,
    month INTEGER NOT NULL,
    straight_cents INTEGER NOT NULL DEFAULT 0,
    premium_cents INTEGER NOT NULL DEFAULT 0,
    burden_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (person, week, job, code, condition, month)
) STRICT, WITHOUT ROWID;

-- The same labor by job, code, hidden condition and the month in which it is booked: a closed month keeps what it was
-- closed with, and the open month takes the difference.
CREATE TABLE total_booked_labor (
    job BLOB NOT NULL,
    code BLOB NOT NULL,
    condition BLOB NOT NULL,
    month INTEGER NOT NULL,
    straight_cents INTEGER NOT NULL DEFAULT 0,
    premium_cents INTEGER NOT NULL DEFAULT 0,
    burden_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (job, code, condition, month)
) STRICT, WITHOUT ROWID;
CREATE INDEX total_booked_labor_by_month ON total_booked_labor (month, job);

-- What of a payment is neither applied to an invoice nor given back.
CREATE TABLE total_payment (
    payment BLOB NOT NULL,
    month INTEGER NOT NULL,
    left_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (payment, month)
) STRICT, WITHOUT ROWID;

-- What is open on an invoice: due now, and held. On a credit memo that names no invoice, what is left of it, below
-- zero.
CREATE TABLE total_invoice (
    invoice BLOB NOT NULL,
    month INTEGER NOT NULL,
    open_cents INTEGER NOT NULL DEFAULT 0,
    held_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (invoice, month)
) STRICT, WITHOUT ROWID;

-- What the firm cost beside its jobs, by account, less what its equipment was charged to jobs. Without an account,
-- below zero: what vendors let off for being paid early.
CREATE TABLE total_overhead (
    account BLOB NOT NULL,
    month INTEGER NOT NULL,
    amount_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (account, month)
) STRICT, WITHOUT ROWID;

-- What is open on a vendor's bill; on a credit, below zero.
CREATE TABLE total_bill (
    bill BLOB NOT NULL,
    month INTEGER NOT NULL,
    open_cents INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (bill, month)
) STRICT, WITHOUT ROWID;
