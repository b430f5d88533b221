-- The facts. Every table of facts is insert-only: the triggers at the end refuse UPDATE and DELETE, and so does the
-- program's own authorizer. Money stands in cents, quantities in ten-thousandths (_e4), rates in millionths (_e6),
-- dates as yyyy-mm-dd, months as yyyymm, ids as 16 bytes (UUIDv7).

-- The spine: one row for every fact, chained by hash on each device. Each fact has an open part, which a crew may see,
-- and where it has costs, pay or the contract's price, a sealed one with a salt; the hash is made of their digests. A
-- copy for the site holds the digest of a sealed part and neither its salt nor its values: that is why a sealed column
-- may be NULL where its row also has open ones.
CREATE TABLE entry (
    n INTEGER PRIMARY KEY,
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    device TEXT NOT NULL CHECK (length(device) > 0 AND device NOT GLOB '*[^A-Z]*'),
    device_seq INTEGER NOT NULL CHECK (device_seq > 0),
    recorded_at TEXT NOT NULL CHECK (length(recorded_at) = 24 AND recorded_at LIKE '%Z'),
    person BLOB NOT NULL REFERENCES person(id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL,
    prev_hash BLOB NOT NULL CHECK (length(prev_hash) = 32),
    open BLOB NOT NULL CHECK (length(open) = 32),
    sealed BLOB CHECK (length(sealed) = 32),
    salt BLOB CHECK (length(salt) = 32),
    hash BLOB NOT NULL CHECK (length(hash) = 32),
    UNIQUE (device, device_seq), CHECK (salt IS NULL OR sealed IS NOT NULL)
) STRICT;

-- The firm and its settings. The newest one counts for what is worked out from then on.
CREATE TABLE firm (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    name TEXT NOT NULL CHECK (length(name) > 0),
    town TEXT NOT NULL CHECK (length(town) > 0),
    state TEXT NOT NULL CHECK (length(state) > 0),
    street TEXT CHECK (length(street) > 0),
    zip TEXT CHECK (length(zip) > 0),
    phone TEXT CHECK (length(phone) > 0),
    license TEXT CHECK (length(license) > 0),
    logo BLOB CHECK (length(logo) = 32),
    lead_certificate TEXT CHECK (length(lead_certificate) > 0),
    currency TEXT NOT NULL CHECK (length(currency) > 0),
    week_begins TEXT NOT NULL CHECK (week_begins IN (
        'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'
    )),
    overtime_over_week_e4 INTEGER,
    overtime_over_day_e4 INTEGER,
    premium_to TEXT CHECK (premium_to IN ('hours', 'cause')),
    sales_tax_e6 INTEGER NOT NULL,
    sales_tax_rounding TEXT NOT NULL CHECK (sales_tax_rounding IN ('invoice', 'item')),
    material_tax_is_cost INTEGER CHECK (material_tax_is_cost IN (0, 1)),
    overhead_by TEXT CHECK (overhead_by IN ('labor-hours', 'labor-cost', 'crew-days')),
    overhead_rate_e6 INTEGER,
    books_see_margin INTEGER CHECK (books_see_margin IN (0, 1))
) STRICT, WITHOUT ROWID;

-- A device that writes to the ledger; its letter stands in numbers for people. Without a key it writes here alone.
CREATE TABLE device (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    letter TEXT NOT NULL CHECK (length(letter) > 0),
    name TEXT NOT NULL CHECK (length(name) > 0),
    role TEXT CHECK (role IN ('owner', 'crew', 'books')),
    person BLOB REFERENCES person(id) CHECK (length(person) = 16),
    signs_with BLOB CHECK (length(signs_with) = 32),
    locks_with TEXT CHECK (length(locks_with) > 0),
    CHECK (letter NOT GLOB '*[^A-Z]*')
) STRICT, WITHOUT ROWID;

-- A device that is no longer the firm's: what it wrote after this entry is not believed.
CREATE TABLE device_left (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    device BLOB NOT NULL REFERENCES device(id) CHECK (length(device) = 16),
    last_seq INTEGER NOT NULL CHECK (last_seq >= 0),
    reason TEXT CHECK (length(reason) > 0)
) STRICT, WITHOUT ROWID;

-- A crew: its size and day are what a crew-day is.
CREATE TABLE crew (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES crew(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    date TEXT CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    name TEXT NOT NULL CHECK (length(name) > 0),
    size INTEGER NOT NULL,
    hours_a_day_e4 INTEGER NOT NULL,
    CHECK (size > 0 AND hours_a_day_e4 > 0),
    CHECK (revises IS NULL OR date IS NOT NULL)
) STRICT, WITHOUT ROWID;

-- A person of the firm.
CREATE TABLE person (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES person(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    date TEXT CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    name TEXT NOT NULL CHECK (length(name) > 0),
    role TEXT NOT NULL CHECK (role IN ('owner', 'crew', 'books')),
    crew BLOB REFERENCES crew(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(crew) = 16),
    class TEXT CHECK (length(class) > 0),
    left_on TEXT CHECK (left_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    language TEXT CHECK (language IN ('en', 'es')),
    CHECK (revises IS NULL OR date IS NOT NULL)
) STRICT, WITHOUT ROWID;

-- A homeowner.
CREATE TABLE customer (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES customer(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    name TEXT NOT NULL CHECK (length(name) > 0),
    address TEXT CHECK (length(address) > 0),
    phone TEXT CHECK (length(phone) > 0),
    email TEXT CHECK (length(email) > 0)
) STRICT, WITHOUT ROWID;

-- A supplier, subcontractor, hauler or office that sends bills.
CREATE TABLE vendor (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES vendor(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    name TEXT NOT NULL CHECK (length(name) > 0),
    subcontractor INTEGER NOT NULL CHECK (subcontractor IN (0, 1)),
    due_days INTEGER CHECK (due_days >= 0)
) STRICT, WITHOUT ROWID;

-- A cost code of the firm's own list.
CREATE TABLE cost_code (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES cost_code(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    code TEXT NOT NULL CHECK (length(code) > 0),
    title TEXT NOT NULL CHECK (length(title) > 0),
    unit TEXT CHECK (length(unit) > 0),
    bought_in TEXT CHECK (length(bought_in) > 0),
    position INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- A person's pay from a day on.
CREATE TABLE pay_rate (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    person BLOB NOT NULL REFERENCES person(id) CHECK (length(person) = 16),
    hourly_e6 INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- An employer's tax, insurance or benefit from a day on; a later one with the same name and class takes over.
CREATE TABLE burden_rate (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    name TEXT NOT NULL CHECK (length(name) > 0),
    calculated_on TEXT NOT NULL CHECK (calculated_on IN ('pay', 'hundred-of-pay', 'hour')),
    rate_e6 INTEGER NOT NULL,
    wage_base_cents INTEGER,
    class TEXT CHECK (length(class) > 0),
    on_premium INTEGER NOT NULL CHECK (on_premium IN (0, 1)),
    source TEXT CHECK (length(source) > 0),
    CHECK (calculated_on <> 'hour' OR (on_premium = 0 AND wage_base_cents IS NULL))
) STRICT, WITHOUT ROWID;

-- Pay beyond hourly pay that counts towards the regular rate of its week (29 CFR 778.208).
CREATE TABLE bonus (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    person BLOB NOT NULL REFERENCES person(id) CHECK (length(person) = 16),
    amount_cents INTEGER NOT NULL,
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- The firm's own account for a line of the journal: its number and name.
CREATE TABLE account (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    line TEXT NOT NULL CHECK (line IN (
        'bank', 'receivable', 'retainage-receivable', 'customer-credit', 'sales-tax-payable', 'payable',
        'wages-payable', 'burden-payable', 'costs-applied', 'cost-material', 'cost-labor', 'cost-subcontract',
        'cost-equipment', 'cost-disposal', 'cost-permit', 'cost-other', 'revenue', 'under-billed', 'over-billed',
        'loss-provision', 'loss-expense', 'overhead', 'set-aside', 'discounts-taken'
    )),
    number TEXT CHECK (length(number) > 0),
    name TEXT NOT NULL CHECK (length(name) > 0)
) STRICT, WITHOUT ROWID;

-- A job.
CREATE TABLE job (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES job(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    number TEXT NOT NULL CHECK (length(number) > 0),
    title TEXT NOT NULL CHECK (length(title) > 0),
    customer BLOB NOT NULL REFERENCES customer(id) CHECK (length(customer) = 16),
    site TEXT NOT NULL CHECK (length(site) > 0),
    state TEXT CHECK (length(state) = 2),
    crew BLOB REFERENCES crew(id) CHECK (length(crew) = 16),
    roof_age_years INTEGER,
    roof_state TEXT CHECK (length(roof_state) > 0)
) STRICT, WITHOUT ROWID;

-- A step in a job's life.
CREATE TABLE job_status (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    stage TEXT NOT NULL CHECK (stage IN ('begun', 'finished', 'canceled'))
) STRICT, WITHOUT ROWID;

-- When the work on a job is planned, and by whom. The newest one counts. It moves no money.
CREATE TABLE schedule (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    begins TEXT NOT NULL CHECK (begins GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    ends TEXT CHECK (ends GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note TEXT CHECK (length(note) > 0),
    crew BLOB REFERENCES crew(id) CHECK (length(crew) = 16),
    crew_days_e4 INTEGER CHECK (crew_days_e4 > 0),
    CHECK (ends >= begins)
) STRICT, WITHOUT ROWID;

-- The contract: cost by code, price, included sheets, unit prices, payment schedule.
CREATE TABLE contract (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    price_cents INTEGER,
    included_sheets_e4 INTEGER NOT NULL,
    included_feet_e4 INTEGER NOT NULL,
    retainage_e6 INTEGER,
    note TEXT CHECK (length(note) > 0),
    choice TEXT CHECK (length(choice) > 0),
    choice_title TEXT CHECK (length(choice_title) > 0),
    roof BLOB REFERENCES roof(id) CHECK (length(roof) = 16),
    sold_at_home INTEGER CHECK (sold_at_home IN (0, 1)),
    recipe BLOB REFERENCES recipe(id) CHECK (length(recipe) = 16),
    proposal BLOB CHECK (length(proposal) = 32),
    CHECK (price_cents >= 0 AND included_sheets_e4 >= 0 AND included_feet_e4 >= 0
        AND retainage_e6 BETWEEN 0 AND 1000000)
) STRICT, WITHOUT ROWID;

-- What the contract holds for one code and kind of cost.
CREATE TABLE contract_line (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    description TEXT CHECK (length(description) > 0),
    amount_cents INTEGER NOT NULL,
    quantity_e4 INTEGER,
    unit TEXT CHECK (length(unit) > 0),
    hours_e4 INTEGER,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- How much work the contract holds for a measured code.
CREATE TABLE contract_units (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    quantity_e4 INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- What a further sheet (or foot) costs the homeowner.
CREATE TABLE contract_unit_price (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    damaged TEXT NOT NULL CHECK (damaged IN (
        'deck-sheet', 'deck-board', 'rafter', 'wall-sheathing', 'framing', 'insulation', 'fascia', 'soffit', 'trim',
        'hidden-layer'
    )),
    counted_in TEXT NOT NULL CHECK (counted_in IN ('sheet', 'foot', 'square-foot', 'each')),
    price_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- When the homeowner pays.
CREATE TABLE contract_payment (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    title TEXT NOT NULL CHECK (length(title) > 0),
    amount_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A part of the roof system as contracted: what is bought for it, for the order list and the site sheet.
CREATE TABLE contract_part (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    part BLOB REFERENCES part(id) CHECK (length(part) = 16),
    description TEXT NOT NULL CHECK (length(description) > 0),
    product_line TEXT CHECK (length(product_line) > 0),
    color TEXT CHECK (length(color) > 0),
    net_e4 INTEGER NOT NULL,
    waste_e6 INTEGER NOT NULL,
    packages_e4 INTEGER NOT NULL,
    cost_cents INTEGER,
    working TEXT CHECK (length(working) > 0),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- How much of an item lies at one place of the roof, for the site sheet.
CREATE TABLE contract_place (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    edge TEXT CHECK (edge IN (
        'eave', 'rake', 'valley', 'hip', 'ridge', 'wall', 'headwall', 'transition'
    )),
    feature TEXT CHECK (feature IN (
        'pipe', 'chimney', 'skylight', 'wall-end', 'old-vent'
    )),
    net_e4 INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- Something ordered for a job and not yet received: committed cost.
CREATE TABLE purchase_order (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    vendor BLOB NOT NULL REFERENCES vendor(id) CHECK (length(vendor) = 16),
    number TEXT NOT NULL CHECK (length(number) > 0),
    expected_on TEXT CHECK (expected_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]')
) STRICT, WITHOUT ROWID;

-- A line of an order.
CREATE TABLE purchase_order_line (
    fact BLOB NOT NULL REFERENCES purchase_order(id),
    line INTEGER NOT NULL CHECK (line > 0),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    description TEXT CHECK (length(description) > 0),
    quantity_e4 INTEGER,
    unit TEXT CHECK (length(unit) > 0),
    amount_cents INTEGER NOT NULL,
    part BLOB REFERENCES part(id) CHECK (length(part) = 16),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A vendor's bill or credit.
CREATE TABLE bill (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    vendor BLOB NOT NULL REFERENCES vendor(id) CHECK (length(vendor) = 16),
    reference TEXT NOT NULL CHECK (length(reference) > 0),
    purchase_order BLOB REFERENCES purchase_order(id) CHECK (length(purchase_order) = 16),
    completes_order INTEGER NOT NULL CHECK (completes_order IN (0, 1)),
    credit INTEGER NOT NULL CHECK (credit IN (0, 1)),
    note TEXT CHECK (length(note) > 0),
    due TEXT CHECK (due GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    picture BLOB CHECK (length(picture) = 32)
) STRICT, WITHOUT ROWID;

-- A line of a bill.
CREATE TABLE bill_line (
    fact BLOB NOT NULL REFERENCES bill(id),
    line INTEGER NOT NULL CHECK (line > 0),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    description TEXT CHECK (length(description) > 0),
    quantity_e4 INTEGER,
    unit TEXT CHECK (length(unit) > 0),
    unit_price_e6 INTEGER,
    amount_cents INTEGER NOT NULL,
    tax_cents INTEGER NOT NULL,
    condition BLOB REFERENCES condition(id) CHECK (length(condition) = 16),
    came_e4 INTEGER CHECK (came_e4 >= 0),
    part BLOB REFERENCES part(id) CHECK (length(part) = 16),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- An account of the firm's overhead: rent, trucks, insurance, office pay.
CREATE TABLE overhead_account (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES overhead_account(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    number TEXT CHECK (length(number) > 0),
    name TEXT NOT NULL CHECK (length(name) > 0)
) STRICT, WITHOUT ROWID;

-- A cost of the firm that comes again: offered when it is due, and never recorded by itself.
CREATE TABLE recurring_cost (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES recurring_cost(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    account BLOB NOT NULL REFERENCES overhead_account(id) CHECK (length(account) = 16),
    description TEXT NOT NULL CHECK (length(description) > 0),
    amount_cents INTEGER NOT NULL CHECK (amount_cents > 0),
    every TEXT NOT NULL CHECK (every IN ('month', 'quarter', 'year')),
    vendor BLOB REFERENCES vendor(id) CHECK (length(vendor) = 16),
    owed_from TEXT CHECK (owed_from IN ('bank', 'wages', 'set-aside')),
    until TEXT CHECK (until GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    CHECK ((vendor IS NULL) != (owed_from IS NULL))
) STRICT, WITHOUT ROWID;

-- A line of a bill that is no job's.
CREATE TABLE bill_overhead (
    fact BLOB NOT NULL REFERENCES bill(id),
    line INTEGER NOT NULL CHECK (line > 0),
    account BLOB NOT NULL REFERENCES overhead_account(id) CHECK (length(account) = 16),
    description TEXT CHECK (length(description) > 0),
    amount_cents INTEGER NOT NULL,
    tax_cents INTEGER NOT NULL,
    recurring BLOB REFERENCES recurring_cost(id) CHECK (length(recurring) = 16),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A cost of the firm without a bill: office pay, a bank's fee, what is set aside for a truck's wear.
CREATE TABLE overhead_cost (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    account BLOB NOT NULL REFERENCES overhead_account(id) CHECK (length(account) = 16),
    description TEXT NOT NULL CHECK (length(description) > 0),
    amount_cents INTEGER NOT NULL CHECK (amount_cents <> 0),
    owed_from TEXT NOT NULL CHECK (owed_from IN ('bank', 'wages', 'set-aside')),
    recurring BLOB REFERENCES recurring_cost(id) CHECK (length(recurring) = 16)
) STRICT, WITHOUT ROWID;

-- Money that went to a vendor for some of its bills.
CREATE TABLE vendor_payment (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    vendor BLOB NOT NULL REFERENCES vendor(id) CHECK (length(vendor) = 16),
    method TEXT NOT NULL CHECK (method IN ('check', 'card', 'transfer', 'cash')),
    reference TEXT CHECK (length(reference) > 0)
) STRICT, WITHOUT ROWID;

-- What a subcontractor has handed in: of each the newest that is given counts.
CREATE TABLE vendor_papers (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    vendor BLOB NOT NULL REFERENCES vendor(id) CHECK (length(vendor) = 16),
    tin TEXT CHECK (length(tin) > 0),
    w9_signed TEXT CHECK (w9_signed GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    insured_until TEXT CHECK (insured_until GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]')
) STRICT, WITHOUT ROWID;

-- What the firm means to do in a month: sales and cost of its jobs, overhead, crew-days. The newest counts.
CREATE TABLE budget (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    month INTEGER NOT NULL CHECK (month BETWEEN 190001 AND 299912 AND month % 100 BETWEEN 1 AND 12),
    sales_cents INTEGER NOT NULL CHECK (sales_cents >= 0),
    cost_cents INTEGER NOT NULL CHECK (cost_cents >= 0),
    overhead_cents INTEGER NOT NULL CHECK (overhead_cents >= 0),
    crew_days_e4 INTEGER NOT NULL CHECK (crew_days_e4 >= 0)
) STRICT, WITHOUT ROWID;

-- What a payment pays of one bill; below zero for a credit that is taken with it.
CREATE TABLE vendor_payment_bill (
    fact BLOB NOT NULL REFERENCES vendor_payment(id),
    line INTEGER NOT NULL CHECK (line > 0),
    bill BLOB NOT NULL REFERENCES bill(id) CHECK (length(bill) = 16),
    amount_cents INTEGER NOT NULL,
    discount_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A statement of the bank, as it came: what stood there before and after, and every line between.
CREATE TABLE bank_statement (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    begins TEXT NOT NULL CHECK (begins GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    account TEXT CHECK (length(account) > 0),
    opening_cents INTEGER NOT NULL,
    closing_cents INTEGER NOT NULL,
    CHECK (begins <= date)
) STRICT, WITHOUT ROWID;

-- A line of it; below zero where money left the bank.
CREATE TABLE bank_statement_line (
    fact BLOB NOT NULL REFERENCES bank_statement(id),
    line INTEGER NOT NULL CHECK (line > 0),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    amount_cents INTEGER NOT NULL CHECK (amount_cents <> 0),
    words TEXT NOT NULL CHECK (length(words) > 0),
    number TEXT CHECK (length(number) > 0),
    bank_id TEXT CHECK (length(bank_id) > 0),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- What a line of a statement is: payments that the books hold, or what they hold no payment of.
CREATE TABLE bank_cleared (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    statement BLOB NOT NULL REFERENCES bank_statement(id) CHECK (length(statement) = 16),
    place INTEGER NOT NULL CHECK (place > 0),
    other TEXT CHECK (other IN (
        'wages', 'taxes', 'owner', 'own-account', 'loan', 'bank-error', 'something-else'
    )),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A payment that the line holds; a deposit may hold several.
CREATE TABLE bank_cleared_item (
    fact BLOB NOT NULL REFERENCES bank_cleared(id),
    line INTEGER NOT NULL CHECK (line > 0),
    payment BLOB REFERENCES payment(id) CHECK (length(payment) = 16),
    refund BLOB REFERENCES refund(id) CHECK (length(refund) = 16),
    vendor_payment BLOB REFERENCES vendor_payment(id) CHECK (length(vendor_payment) = 16),
    overhead_cost BLOB REFERENCES overhead_cost(id) CHECK (length(overhead_cost) = 16),
    PRIMARY KEY (fact, line),
    CHECK (
        (payment IS NOT NULL) + (refund IS NOT NULL) + (vendor_payment IS NOT NULL) + (overhead_cost IS NOT NULL) = 1
    )
) STRICT, WITHOUT ROWID;

-- A cost of a job without a bill: own equipment, a fee paid in cash.
CREATE TABLE direct_cost (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    description TEXT NOT NULL CHECK (length(description) > 0),
    amount_cents INTEGER NOT NULL,
    condition BLOB REFERENCES condition(id) CHECK (length(condition) = 16),
    equipment BLOB REFERENCES overhead_account(id) CHECK (length(equipment) = 16)
) STRICT, WITHOUT ROWID;

-- Hours of one person on one day, job and code.
CREATE TABLE time_entry (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    person BLOB NOT NULL REFERENCES person(id) CHECK (length(person) = 16),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    hours_e4 INTEGER NOT NULL,
    crew BLOB REFERENCES crew(id) CHECK (length(crew) = 16),
    caused_overtime INTEGER NOT NULL CHECK (caused_overtime IN (0, 1)),
    condition BLOB REFERENCES condition(id) CHECK (length(condition) = 16),
    CHECK (hours_e4 > 0 AND hours_e4 <= 240000)
) STRICT, WITHOUT ROWID;

-- Material on site and not installed, at cost, as counted on a day; the newest count of a job and code stands.
CREATE TABLE stored_material (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    amount_cents INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Work done on a measured code.
CREATE TABLE units_done (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    quantity_e4 INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- The owner's own forecast of what a code will have cost at the end.
CREATE TABLE forecast (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    amount_cents INTEGER NOT NULL,
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A hidden condition found at the tear-off.
CREATE TABLE condition (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    number TEXT NOT NULL CHECK (length(number) > 0),
    place TEXT NOT NULL CHECK (place IN (
        'field', 'eave', 'rake', 'valley', 'hip', 'ridge', 'roof-to-wall', 'chimney', 'skylight', 'pipe'
    )),
    side TEXT CHECK (length(side) > 0),
    cause TEXT NOT NULL CHECK (cause IN (
        'missing-kick-out', 'failed-flashing', 'ice-dam', 'condensation', 'puncture', 'old-leak', 'other', 'not-said'
    )),
    damaged TEXT NOT NULL CHECK (damaged IN (
        'deck-sheet', 'deck-board', 'rafter', 'wall-sheathing', 'framing', 'insulation', 'fascia', 'soffit', 'trim',
        'hidden-layer'
    )),
    counted_in TEXT NOT NULL CHECK (counted_in IN ('sheet', 'foot', 'square-foot', 'each')),
    count_e4 INTEGER NOT NULL,
    count_reason TEXT CHECK (length(count_reason) > 0),
    note TEXT CHECK (length(note) > 0),
    for_homeowner TEXT CHECK (length(for_homeowner) > 0),
    moisture_e4 INTEGER,
    calculated_e4 INTEGER,
    x_in_e4 INTEGER,
    y_in_e4 INTEGER,
    CHECK (count_e4 > 0)
) STRICT, WITHOUT ROWID;

-- A photo of a condition.
CREATE TABLE condition_photo (
    fact BLOB NOT NULL REFERENCES condition(id),
    line INTEGER NOT NULL CHECK (line > 0),
    photo BLOB NOT NULL CHECK (length(photo) = 32),
    original BLOB CHECK (length(original) = 32),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- An area of damage, as seen.
CREATE TABLE condition_patch (
    fact BLOB NOT NULL REFERENCES condition(id),
    line INTEGER NOT NULL CHECK (line > 0),
    along_eave_in_e4 INTEGER NOT NULL,
    up_slope_in_e4 INTEGER NOT NULL,
    from_rafter_in_e4 INTEGER,
    PRIMARY KEY (fact, line),
    CHECK (along_eave_in_e4 > 0 AND up_slope_in_e4 > 0)
) STRICT, WITHOUT ROWID;

-- Something drawn on a photo of a condition; places are fractions of the picture's width and height.
CREATE TABLE condition_mark (
    fact BLOB NOT NULL REFERENCES condition(id),
    line INTEGER NOT NULL CHECK (line > 0),
    photo INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('arrow', 'ring', 'note')),
    x_e4 INTEGER NOT NULL,
    y_e4 INTEGER NOT NULL,
    to_x_e4 INTEGER,
    to_y_e4 INTEGER,
    words TEXT CHECK (length(words) > 0),
    PRIMARY KEY (fact, line),
    CHECK (photo > 0 AND x_e4 BETWEEN 0 AND 10000 AND y_e4 BETWEEN 0 AND 10000)
) STRICT, WITHOUT ROWID;

-- Work on a condition begun or done.
CREATE TABLE repair (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    condition BLOB NOT NULL REFERENCES condition(id) CHECK (length(condition) = 16),
    stage TEXT NOT NULL CHECK (stage IN ('begun', 'done')),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A photo taken at a step of the work.
CREATE TABLE repair_photo (
    fact BLOB NOT NULL REFERENCES repair(id),
    line INTEGER NOT NULL CHECK (line > 0),
    photo BLOB NOT NULL CHECK (length(photo) = 32),
    original BLOB CHECK (length(original) = 32),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- What the firm's owner decides where the homeowner declined the repair of a condition. The newest one holds.
CREATE TABLE declined_repair (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    condition BLOB NOT NULL REFERENCES condition(id) CHECK (length(condition) = 16),
    course TEXT NOT NULL CHECK (course IN ('own-cost', 'by-others', 'stop')),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A change order put to the homeowner.
CREATE TABLE change_order (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    number TEXT NOT NULL CHECK (length(number) > 0),
    title TEXT NOT NULL CHECK (length(title) > 0),
    pricing TEXT NOT NULL CHECK (pricing IN ('unit-price', 'time-and-material', 'lump-sum')),
    markup_e6 INTEGER,
    not_to_exceed_cents INTEGER,
    days INTEGER,
    if_left TEXT CHECK (length(if_left) > 0)
) STRICT, WITHOUT ROWID;

-- A line of a change order.
CREATE TABLE change_order_line (
    fact BLOB NOT NULL REFERENCES change_order(id),
    line INTEGER NOT NULL CHECK (line > 0),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    condition BLOB REFERENCES condition(id) CHECK (length(condition) = 16),
    description TEXT NOT NULL CHECK (length(description) > 0),
    quantity_e4 INTEGER,
    unit TEXT CHECK (length(unit) > 0),
    price_cents INTEGER NOT NULL,
    cost_cents INTEGER,
    hours_e4 INTEGER,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- What a change order should cost the firm, filled in where whoever asked could not know it.
CREATE TABLE change_cost (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    change_order BLOB NOT NULL REFERENCES change_order(id) CHECK (length(change_order) = 16),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- What a line of it should cost.
CREATE TABLE change_cost_line (
    fact BLOB NOT NULL REFERENCES change_cost(id),
    line INTEGER NOT NULL CHECK (line > 0),
    change_line INTEGER NOT NULL,
    cost_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- The decision to a change order.
CREATE TABLE decision (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    change_order BLOB NOT NULL REFERENCES change_order(id) CHECK (length(change_order) = 16),
    verdict TEXT NOT NULL CHECK (verdict IN ('approved', 'declined', 'withdrawn')),
    decided_by TEXT NOT NULL CHECK (length(decided_by) > 0),
    method TEXT CHECK (method IN ('signed', 'phone', 'text', 'email')),
    signature BLOB CHECK (length(signature) = 32),
    caution_given INTEGER NOT NULL CHECK (caution_given IN (0, 1)),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A decision to one line, where lines were decided apart.
CREATE TABLE decision_line (
    fact BLOB NOT NULL REFERENCES decision(id),
    line INTEGER NOT NULL CHECK (line > 0),
    change_line INTEGER NOT NULL,
    verdict TEXT NOT NULL CHECK (verdict IN ('approved', 'declined', 'withdrawn')),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- An invoice, or a credit memo.
CREATE TABLE invoice (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    number TEXT NOT NULL CHECK (length(number) > 0),
    purpose TEXT NOT NULL CHECK (purpose IN (
        'deposit', 'progress', 'change-order', 'final', 'credit'
    )),
    due TEXT NOT NULL CHECK (due GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    tax_cents INTEGER NOT NULL,
    retainage_cents INTEGER NOT NULL,
    credits BLOB REFERENCES invoice(id) CHECK (length(credits) = 16),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A line of an invoice.
CREATE TABLE invoice_line (
    fact BLOB NOT NULL REFERENCES invoice(id),
    line INTEGER NOT NULL CHECK (line > 0),
    description TEXT NOT NULL CHECK (length(description) > 0),
    amount_cents INTEGER NOT NULL,
    taxable INTEGER NOT NULL CHECK (taxable IN (0, 1)),
    change_order BLOB REFERENCES change_order(id) CHECK (length(change_order) = 16),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- Retainage of an invoice that is now due.
CREATE TABLE retainage_release (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    invoice BLOB NOT NULL REFERENCES invoice(id) CHECK (length(invoice) = 16),
    amount_cents INTEGER NOT NULL,
    due TEXT NOT NULL CHECK (due GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]')
) STRICT, WITHOUT ROWID;

-- Money that came.
CREATE TABLE payment (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    customer BLOB NOT NULL REFERENCES customer(id) CHECK (length(customer) = 16),
    amount_cents INTEGER NOT NULL,
    method TEXT NOT NULL CHECK (method IN ('check', 'card', 'transfer', 'cash')),
    reference TEXT CHECK (length(reference) > 0),
    CHECK (amount_cents > 0)
) STRICT, WITHOUT ROWID;

-- A payment, or a credit memo that names no invoice, applied to an invoice.
CREATE TABLE allocation (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    payment BLOB REFERENCES payment(id) CHECK (length(payment) = 16),
    credit BLOB REFERENCES invoice(id) CHECK (length(credit) = 16),
    invoice BLOB NOT NULL REFERENCES invoice(id) CHECK (length(invoice) = 16),
    amount_cents INTEGER NOT NULL,
    CHECK (amount_cents > 0),
    CHECK ((payment IS NULL) != (credit IS NULL))
) STRICT, WITHOUT ROWID;

-- Money given back to a customer: of a payment that is not applied, or of a credit memo.
CREATE TABLE refund (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    customer BLOB NOT NULL REFERENCES customer(id) CHECK (length(customer) = 16),
    payment BLOB REFERENCES payment(id) CHECK (length(payment) = 16),
    credit BLOB REFERENCES invoice(id) CHECK (length(credit) = 16),
    amount_cents INTEGER NOT NULL,
    method TEXT NOT NULL CHECK (method IN ('check', 'card', 'transfer', 'cash')),
    reference TEXT CHECK (length(reference) > 0),
    CHECK (amount_cents > 0),
    CHECK ((payment IS NULL) != (credit IS NULL))
) STRICT, WITHOUT ROWID;

-- A part as the firm buys it: which item of a roof it is bought for, and how it is packaged.
CREATE TABLE part (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES part(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    name TEXT NOT NULL CHECK (length(name) > 0),
    title TEXT NOT NULL CHECK (length(title) > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    package TEXT NOT NULL CHECK (length(package) > 0),
    covers_e4 INTEGER NOT NULL,
    shingle TEXT CHECK (shingle IN ('laminated', 'strip', 'individual')),
    pieces_per_square_e4 INTEGER,
    exposure_in_e4 INTEGER,
    nails_each_e4 INTEGER,
    free_area_sqin_e4 INTEGER,
    cfm_e4 INTEGER,
    product_line TEXT CHECK (length(product_line) > 0),
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    CHECK (covers_e4 > 0 AND pieces_per_square_e4 > 0 AND exposure_in_e4 > 0 AND nails_each_e4 >= 0
        AND free_area_sqin_e4 > 0 AND cfm_e4 > 0)
) STRICT, WITHOUT ROWID;

-- A color that a part comes in.
CREATE TABLE part_color (
    fact BLOB NOT NULL REFERENCES part(id),
    line INTEGER NOT NULL CHECK (line > 0),
    color TEXT NOT NULL CHECK (length(color) > 0),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- The color of a part, chosen with the homeowner after the contract. The newest one holds.
CREATE TABLE color_choice (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    part BLOB NOT NULL REFERENCES part(id) CHECK (length(part) = 16),
    color TEXT NOT NULL CHECK (length(color) > 0),
    chosen_by TEXT NOT NULL CHECK (length(chosen_by) > 0)
) STRICT, WITHOUT ROWID;

-- What a package of a part costs from a day on, at a vendor.
CREATE TABLE part_price (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    part BLOB NOT NULL REFERENCES part(id) CHECK (length(part) = 16),
    vendor BLOB REFERENCES vendor(id) CHECK (length(vendor) = 16),
    price_e6 INTEGER NOT NULL,
    CHECK (price_e6 >= 0)
) STRICT, WITHOUT ROWID;

-- How many hours of work one measure of an item takes, from a day on.
CREATE TABLE production_rate (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    steepness TEXT NOT NULL CHECK (steepness IN ('low', 'walkable', 'steep', 'very-steep')),
    stories INTEGER NOT NULL,
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    hours_e6 INTEGER NOT NULL,
    CHECK (stories > 0 AND hours_e6 >= 0)
) STRICT, WITHOUT ROWID;

-- What the code or the company standard asks of a topic, from a day on.
CREATE TABLE standard (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    topic TEXT NOT NULL CHECK (topic IN (
        'barrier-eave', 'barrier-eave-inside', 'barrier-eave-along', 'barrier-eave-along-from', 'barrier-rake',
        'barrier-valley', 'barrier-hip', 'barrier-ridge', 'barrier-wall', 'barrier-penetration', 'least-slope',
        'double-underlayment-below', 'drip-edge-eave', 'drip-edge-rake', 'drip-edge-lap', 'starter-eave',
        'starter-rake', 'valley-metal-width', 'valley-lining', 'valley-edge-strips', 'step-flashing-side', 'kick-out',
        'cricket-over', 'vent-ratio', 'vent-upper-least', 'vent-upper-most', 'vent-both', 'vent-retarder-zone',
        'nails-each', 'nails-individual', 'nails-high-wind', 'nails-steep-over', 'new-flashings'
    )),
    origin TEXT NOT NULL CHECK (origin IN ('code', 'company')),
    value_e4 INTEGER NOT NULL,
    source TEXT CHECK (length(source) > 0),
    CHECK (value_e4 >= 0)
) STRICT, WITHOUT ROWID;

-- How the firm builds, from a day on: the sizes, laps and habits that a takeoff needs beyond the roof itself. A later
-- day takes over from an earlier one of the same name. With a job, what that job's contract was built with.
CREATE TABLE recipe (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    name TEXT NOT NULL CHECK (length(name) > 0),
    job BLOB REFERENCES job(id) CHECK (length(job) = 16),
    usual INTEGER NOT NULL CHECK (usual IN (0, 1)),
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    walkable_from_e4 INTEGER NOT NULL,
    steep_from_e4 INTEGER NOT NULL,
    very_steep_from_e4 INTEGER NOT NULL,
    valley TEXT NOT NULL CHECK (valley IN ('open-three-layer', 'open', 'open-roll', 'closed-cut')),
    valley_lining TEXT NOT NULL CHECK (valley_lining IN ('membrane', 'smooth-roll', 'mineral-roll', 'metal')),
    valley_metal_width_in_e4 INTEGER NOT NULL,
    valley_edge_strip_in_e4 INTEGER NOT NULL,
    shingle TEXT NOT NULL CHECK (shingle IN ('laminated', 'strip', 'individual')),
    shingle_nails_e4 INTEGER,
    starter_piece_in_e4 INTEGER NOT NULL,
    starter_nails_e4 INTEGER NOT NULL,
    cap_nails_e4 INTEGER NOT NULL,
    underlayment_nails_e4 INTEGER NOT NULL,
    deck_in_e4 INTEGER NOT NULL,
    exposure_in_e4 INTEGER NOT NULL,
    cap_exposure_in_e4 INTEGER NOT NULL,
    barrier_roll_in_e4 INTEGER NOT NULL,
    barrier_lap_in_e4 INTEGER NOT NULL,
    eave_rows INTEGER,
    underlayment_roll_in_e4 INTEGER NOT NULL,
    underlayment_lap_in_e4 INTEGER NOT NULL,
    underlayment_over_barrier INTEGER NOT NULL CHECK (underlayment_over_barrier IN (0, 1)),
    drip_edge_piece_ft_e4 INTEGER NOT NULL,
    flashing_piece_ft_e4 INTEGER NOT NULL,
    flashing_lap_in_e4 INTEGER NOT NULL,
    step_flashing_side_in_e4 INTEGER NOT NULL,
    masonry_walls INTEGER NOT NULL CHECK (masonry_walls IN (0, 1)),
    pipe_in_e4 INTEGER NOT NULL,
    opening_in_e4 INTEGER NOT NULL,
    shingles_per_square_e4 INTEGER NOT NULL,
    layer_lb_per_square_e4 INTEGER NOT NULL,
    layer_yards_per_square_e4 INTEGER NOT NULL,
    container_tons_e4 INTEGER NOT NULL,
    container_yards_e4 INTEGER NOT NULL,
    vented_eave_ft_e4 INTEGER,
    power_cfm_per_sqft_e4 INTEGER NOT NULL,
    intake_cfm_per_sqft_e4 INTEGER NOT NULL,
    included_sheets_e4 INTEGER NOT NULL,
    included_board_ft_e4 INTEGER NOT NULL,
    insulation_depth_in_e4 INTEGER,
    gutters INTEGER NOT NULL CHECK (gutters IN (0, 1)),
    gutter_corners INTEGER NOT NULL,
    downspouts INTEGER,
    downspout_every_ft_e4 INTEGER NOT NULL,
    downspout_story_ft_e4 INTEGER NOT NULL,
    permits INTEGER NOT NULL,
    machine_days_e4 INTEGER NOT NULL,
    CHECK (job IS NULL OR usual = 0),
    CHECK (0 < walkable_from_e4 AND walkable_from_e4 <= steep_from_e4 AND steep_from_e4 <= very_steep_from_e4)
) STRICT, WITHOUT ROWID;

-- Waste of an item on roofs that are cut-up so much.
CREATE TABLE recipe_waste (
    fact BLOB NOT NULL REFERENCES recipe(id),
    line INTEGER NOT NULL CHECK (line > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    cut_up TEXT NOT NULL CHECK (cut_up IN ('plain', 'some', 'much')),
    share_e6 INTEGER NOT NULL,
    PRIMARY KEY (fact, line),
    CHECK (share_e6 >= 0)
) STRICT, WITHOUT ROWID;

-- A vent that is put in.
CREATE TABLE recipe_vent (
    fact BLOB NOT NULL REFERENCES recipe(id),
    line INTEGER NOT NULL CHECK (line > 0),
    vent TEXT NOT NULL CHECK (vent IN ('ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake')),
    free_area_sqin_e4 INTEGER,
    cfm_e4 INTEGER,
    fixed_e4 INTEGER,
    PRIMARY KEY (fact, line),
    CHECK (free_area_sqin_e4 > 0 AND cfm_e4 > 0)
) STRICT, WITHOUT ROWID;

-- A job's roof as measured. The newest one counts.
CREATE TABLE roof (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    stories INTEGER NOT NULL,
    deck TEXT NOT NULL CHECK (deck IN (
        'plywood', 'strand-board', 'boards', 'spaced-boards'
    )),
    rafter_spacing_in_e4 INTEGER NOT NULL,
    overhang_in_e4 INTEGER NOT NULL,
    wall_thickness_in_e4 INTEGER NOT NULL,
    layers INTEGER NOT NULL,
    attic_floor_sqft_e4 INTEGER NOT NULL,
    climate_zone INTEGER CHECK (climate_zone BETWEEN 1 AND 8),
    vapor_retarder INTEGER NOT NULL CHECK (vapor_retarder IN (0, 1)),
    high_wind INTEGER NOT NULL CHECK (high_wind IN (0, 1)),
    cut_up TEXT NOT NULL CHECK (cut_up IN ('plain', 'some', 'much')),
    built_before_1978 INTEGER NOT NULL CHECK (built_before_1978 IN (0, 1)),
    north_deg INTEGER NOT NULL,
    CHECK (stories > 0 AND layers >= 0 AND rafter_spacing_in_e4 > 0 AND north_deg BETWEEN 0 AND 359)
) STRICT, WITHOUT ROWID;

-- A section of the roof: one plane.
CREATE TABLE roof_section (
    fact BLOB NOT NULL REFERENCES roof(id),
    line INTEGER NOT NULL CHECK (line > 0),
    name TEXT NOT NULL CHECK (length(name) > 0),
    slope_e4 INTEGER NOT NULL,
    area_sqft_e4 INTEGER,
    PRIMARY KEY (fact, line),
    CHECK (slope_e4 >= 0)
) STRICT, WITHOUT ROWID;

-- A corner of a drawn section, seen from above.
CREATE TABLE roof_corner (
    fact BLOB NOT NULL REFERENCES roof(id),
    line INTEGER NOT NULL CHECK (line > 0),
    section INTEGER NOT NULL,
    x_in_e4 INTEGER NOT NULL,
    y_in_e4 INTEGER NOT NULL,
    edge TEXT NOT NULL CHECK (edge IN (
        'eave', 'rake', 'valley', 'hip', 'ridge', 'wall', 'headwall', 'transition'
    )),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- An edge of a section measured by hand.
CREATE TABLE roof_edge (
    fact BLOB NOT NULL REFERENCES roof(id),
    line INTEGER NOT NULL CHECK (line > 0),
    section INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN (
        'eave', 'rake', 'valley', 'hip', 'ridge', 'wall', 'headwall', 'transition'
    )),
    length_ft_e4 INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- Something that comes through the roof or stands at it.
CREATE TABLE roof_feature (
    fact BLOB NOT NULL REFERENCES roof(id),
    line INTEGER NOT NULL CHECK (line > 0),
    kind TEXT NOT NULL CHECK (kind IN (
        'pipe', 'chimney', 'skylight', 'wall-end', 'old-vent'
    )),
    section INTEGER,
    x_in_e4 INTEGER,
    y_in_e4 INTEGER,
    width_in_e4 INTEGER,
    length_in_e4 INTEGER,
    count INTEGER NOT NULL,
    free_area_sqin_e4 INTEGER,
    vent TEXT CHECK (vent IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    PRIMARY KEY (fact, line),
    CHECK (count > 0)
) STRICT, WITHOUT ROWID;

-- A point of the firm's workmanship checklist.
CREATE TABLE check_point (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES check_point(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    item TEXT CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    words TEXT NOT NULL CHECK (length(words) > 0),
    blocks INTEGER NOT NULL CHECK (blocks IN (0, 1)),
    position INTEGER NOT NULL,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1))
) STRICT, WITHOUT ROWID;

-- A point of the checklist looked at on a job. The newest one counts.
CREATE TABLE work_check (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    point BLOB NOT NULL REFERENCES check_point(id) CHECK (length(point) = 16),
    state TEXT NOT NULL CHECK (state IN ('good', 'open', 'not-here')),
    person BLOB NOT NULL REFERENCES person(id) CHECK (length(person) = 16),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A photo of a checked point.
CREATE TABLE work_check_photo (
    fact BLOB NOT NULL REFERENCES work_check(id),
    line INTEGER NOT NULL CHECK (line > 0),
    photo BLOB NOT NULL CHECK (length(photo) = 32),
    original BLOB CHECK (length(original) = 32),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- An inspection by the building office, or the firm's own at the end.
CREATE TABLE inspection (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    title TEXT NOT NULL CHECK (length(title) > 0),
    inspector TEXT NOT NULL CHECK (length(inspector) > 0),
    passed INTEGER NOT NULL CHECK (passed IN (0, 1)),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A photo of an inspection.
CREATE TABLE inspection_photo (
    fact BLOB NOT NULL REFERENCES inspection(id),
    line INTEGER NOT NULL CHECK (line > 0),
    photo BLOB NOT NULL CHECK (length(photo) = 32),
    original BLOB CHECK (length(original) = 32),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A part built in, with its place and lot.
CREATE TABLE installed (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'roll-roofing', 'step-flashing', 'apron', 'counter-flashing', 'kick-out',
        'cricket', 'chimney-flashing', 'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent',
        'power-vent', 'intake', 'ridge-cap', 'fasteners', 'insulation', 'baffle', 'gutter', 'downspout', 'permit',
        'machine', 'set-up', 'covering', 'clean-up', 'driving', 'other'
    )),
    description TEXT NOT NULL CHECK (length(description) > 0),
    place TEXT CHECK (place IN (
        'field', 'eave', 'rake', 'valley', 'hip', 'ridge', 'roof-to-wall', 'chimney', 'skylight', 'pipe'
    )),
    side TEXT CHECK (length(side) > 0),
    lot TEXT CHECK (length(lot) > 0),
    quantity_e4 INTEGER,
    photo BLOB CHECK (length(photo) = 32)
) STRICT, WITHOUT ROWID;

-- What the firm warrants on a job. The newest one counts.
CREATE TABLE warranty (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    begins TEXT NOT NULL CHECK (begins GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    years INTEGER NOT NULL,
    terms TEXT NOT NULL CHECK (length(terms) > 0),
    care TEXT CHECK (length(care) > 0),
    CHECK (years >= 0)
) STRICT, WITHOUT ROWID;

-- A notice in the words of a state, as the firm entered them. From its day on it takes the place of an earlier one of
-- the same state and matter.
CREATE TABLE notice (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    state TEXT NOT NULL CHECK (length(state) > 0),
    about TEXT NOT NULL CHECK (about IN ('cancellation', 'deposit', 'lien')),
    heading TEXT NOT NULL CHECK (length(heading) > 0),
    text TEXT NOT NULL CHECK (length(text) > 0),
    copies INTEGER NOT NULL,
    least_points INTEGER NOT NULL,
    bold INTEGER NOT NULL CHECK (bold IN (0, 1)),
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    CHECK (copies BETWEEN 1 AND 4 AND least_points BETWEEN 8 AND 24)
) STRICT, WITHOUT ROWID;

-- That somebody was given the pamphlet on lead-based paint before the work (40 CFR 745.84).
CREATE TABLE lead_pamphlet (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    shown_by TEXT NOT NULL CHECK (shown_by IN ('signed-receipt', 'certificate-of-mailing')),
    given_to TEXT NOT NULL CHECK (length(given_to) > 0),
    paper BLOB CHECK (length(paper) = 32),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- What the homeowner is told of the insulation that was put in (16 CFR 460.17). The newest one counts.
CREATE TABLE insulation_receipt (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    installer TEXT NOT NULL CHECK (length(installer) > 0),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- The insulation in one part of the house. Parts are never added up (16 CFR 460.17).
CREATE TABLE insulation_receipt_part (
    fact BLOB NOT NULL REFERENCES insulation_receipt(id),
    line INTEGER NOT NULL CHECK (line > 0),
    place TEXT NOT NULL CHECK (length(place) > 0),
    material TEXT NOT NULL CHECK (length(material) > 0),
    loose_fill INTEGER NOT NULL CHECK (loose_fill IN (0, 1)),
    coverage_sqft_e4 INTEGER NOT NULL,
    thickness_in_e4 INTEGER NOT NULL,
    settled_in_e4 INTEGER,
    r_value_e4 INTEGER NOT NULL,
    bags INTEGER,
    PRIMARY KEY (fact, line),
    CHECK (coverage_sqft_e4 > 0 AND thickness_in_e4 > 0 AND r_value_e4 > 0),
    CHECK (settled_in_e4 > 0 AND settled_in_e4 <= thickness_in_e4), CHECK (bags > 0)
) STRICT, WITHOUT ROWID;

-- A month closed: its figures never change again.
CREATE TABLE month_closed (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    month INTEGER NOT NULL CHECK (month BETWEEN 190001 AND 299912 AND month % 100 BETWEEN 1 AND 12)
) STRICT, WITHOUT ROWID;

-- How far each device's facts were in when a month was closed.
CREATE TABLE month_closed_device (
    fact BLOB NOT NULL REFERENCES month_closed(id),
    line INTEGER NOT NULL CHECK (line > 0),
    device TEXT NOT NULL CHECK (length(device) > 0),
    through_seq INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- Labor cost booked in the closed month, frozen, since a week across the month's end may still change.
CREATE TABLE month_closed_labor (
    fact BLOB NOT NULL REFERENCES month_closed(id),
    line INTEGER NOT NULL CHECK (line > 0),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    condition BLOB REFERENCES condition(id) CHECK (length(condition) = 16),
    straight_cents INTEGER NOT NULL,
    premium_cents INTEGER NOT NULL,
    burden_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A job's figures as they stood at the close; verify works them out again and compares.
CREATE TABLE month_closed_job (
    fact BLOB NOT NULL REFERENCES month_closed(id),
    line INTEGER NOT NULL CHECK (line > 0),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    contract_cents INTEGER NOT NULL,
    cost_cents INTEGER NOT NULL,
    forecast_cents INTEGER NOT NULL,
    earned_cents INTEGER NOT NULL,
    billed_cents INTEGER NOT NULL,
    loss_provision_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A set of files given to the bookkeeper.
CREATE TABLE hand_off (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    month INTEGER NOT NULL CHECK (month BETWEEN 190001 AND 299912 AND month % 100 BETWEEN 1 AND 12),
    part INTEGER NOT NULL,
    journal_debits_cents INTEGER NOT NULL,
    files BLOB NOT NULL CHECK (length(files) = 32)
) STRICT, WITHOUT ROWID;

-- How far each device's facts were in when a hand-off was made.
CREATE TABLE hand_off_device (
    fact BLOB NOT NULL REFERENCES hand_off(id),
    line INTEGER NOT NULL CHECK (line > 0),
    device TEXT NOT NULL CHECK (length(device) > 0),
    through_seq INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- Labor that a hand-off gave to the bookkeeper, as it was calculated then: later hours of the same week may still
-- change it, and a later part holds only the difference.
CREATE TABLE hand_off_labor (
    fact BLOB NOT NULL REFERENCES hand_off(id),
    line INTEGER NOT NULL CHECK (line > 0),
    source BLOB REFERENCES entry(id) CHECK (length(source) = 16),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    condition BLOB REFERENCES condition(id) CHECK (length(condition) = 16),
    straight_cents INTEGER NOT NULL,
    premium_cents INTEGER NOT NULL,
    burden_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- What a hand-off moved on a job beside its billing, so that revenue is what was earned.
CREATE TABLE hand_off_job (
    fact BLOB NOT NULL REFERENCES hand_off(id),
    line INTEGER NOT NULL CHECK (line > 0),
    job BLOB NOT NULL REFERENCES job(id) CHECK (length(job) = 16),
    over_billed_cents INTEGER NOT NULL,
    under_billed_cents INTEGER NOT NULL,
    loss_provision_cents INTEGER NOT NULL,
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A file beside the ledger.
CREATE TABLE attachment (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    hash BLOB NOT NULL CHECK (length(hash) = 32),
    media_type TEXT NOT NULL CHECK (length(media_type) > 0),
    bytes INTEGER NOT NULL,
    name TEXT CHECK (length(name) > 0)
) STRICT, WITHOUT ROWID;

-- Cancels another fact to the cent.
CREATE TABLE reversal (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    reverses BLOB NOT NULL REFERENCES entry(id) CHECK (length(reverses) = 16),
    reason TEXT CHECK (length(reason) > 0)
) STRICT, WITHOUT ROWID;

-- What a person says where facts of several devices contradict each other: they stand as they are.
CREATE TABLE answer (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    date TEXT NOT NULL CHECK (date GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    question TEXT NOT NULL CHECK (question IN (
        'decisions', 'change-cost', 'number', 'contract', 'allocation', 'repair', 'hours', 'finished', 'checks',
        'month', 'bank', 'reversed'
    )),
    note TEXT CHECK (length(note) > 0)
) STRICT, WITHOUT ROWID;

-- A fact that an answer is about.
CREATE TABLE answer_about (
    fact BLOB NOT NULL REFERENCES answer(id),
    line INTEGER NOT NULL CHECK (line > 0),
    about BLOB NOT NULL REFERENCES entry(id) CHECK (length(about) = 16),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- Ways in that the reports and pages need.
CREATE INDEX time_entry_by_person ON time_entry (person, date, hours_e4);
CREATE INDEX time_entry_by_job ON time_entry (job);
CREATE INDEX reversal_by_fact ON reversal (reverses);
CREATE INDEX attachment_by_hash ON attachment (hash);
CREATE INDEX bill_line_by_job ON bill_line (job);
CREATE INDEX bill_overhead_by_account ON bill_overhead (account);
CREATE INDEX bill_overhead_by_recurring ON bill_overhead (recurring) WHERE recurring IS NOT NULL;
CREATE INDEX overhead_cost_by_account ON overhead_cost (account);
CREATE INDEX overhead_cost_by_recurring ON overhead_cost (recurring) WHERE recurring IS NOT NULL;
CREATE INDEX bank_cleared_by_statement ON bank_cleared (statement);
CREATE INDEX bank_cleared_item_by_payment ON bank_cleared_item (payment) WHERE payment IS NOT NULL;
CREATE INDEX bank_cleared_item_by_refund ON bank_cleared_item (refund) WHERE refund IS NOT NULL;
CREATE INDEX bank_cleared_item_by_vendor_payment ON bank_cleared_item (vendor_payment) WHERE vendor_payment IS NOT NULL;
CREATE INDEX bank_cleared_item_by_overhead_cost ON bank_cleared_item (overhead_cost) WHERE overhead_cost IS NOT NULL;
CREATE INDEX vendor_papers_by_vendor ON vendor_papers (vendor);
CREATE INDEX vendor_payment_by_vendor ON vendor_payment (vendor);
CREATE INDEX vendor_payment_bill_by_bill ON vendor_payment_bill (bill);
CREATE INDEX direct_cost_by_equipment ON direct_cost (equipment) WHERE equipment IS NOT NULL;
CREATE INDEX bill_by_reference ON bill (vendor, reference);
CREATE INDEX bill_by_order ON bill (purchase_order) WHERE purchase_order IS NOT NULL;
CREATE INDEX bill_line_by_condition ON bill_line (condition) WHERE condition IS NOT NULL;
CREATE INDEX time_entry_by_condition ON time_entry (condition) WHERE condition IS NOT NULL;
CREATE INDEX direct_cost_by_condition ON direct_cost (condition) WHERE condition IS NOT NULL;
CREATE INDEX direct_cost_by_job ON direct_cost (job);
CREATE INDEX contract_by_job ON contract (job);
CREATE INDEX job_status_by_job ON job_status (job);
CREATE INDEX condition_by_job ON condition (job);
CREATE INDEX repair_by_condition ON repair (condition);
CREATE INDEX declined_repair_by_condition ON declined_repair (condition);
CREATE INDEX change_order_by_job ON change_order (job);
CREATE INDEX change_line_by_condition ON change_order_line (condition) WHERE condition IS NOT NULL;
CREATE INDEX change_cost_by_change_order ON change_cost (change_order);
CREATE INDEX decision_by_change_order ON decision (change_order);
CREATE INDEX purchase_order_by_job ON purchase_order (job);
CREATE INDEX units_done_by_job ON units_done (job);
CREATE INDEX stored_material_by_job ON stored_material (job);
CREATE INDEX forecast_by_job ON forecast (job);
CREATE INDEX invoice_by_job ON invoice (job);
CREATE INDEX allocation_by_invoice ON allocation (invoice);
CREATE INDEX allocation_by_payment ON allocation (payment) WHERE payment IS NOT NULL;
CREATE INDEX allocation_by_credit ON allocation (credit) WHERE credit IS NOT NULL;
CREATE INDEX refund_by_payment ON refund (payment) WHERE payment IS NOT NULL;
CREATE INDEX refund_by_credit ON refund (credit) WHERE credit IS NOT NULL;
CREATE INDEX retainage_release_by_invoice ON retainage_release (invoice);
CREATE INDEX payment_by_customer ON payment (customer);
CREATE INDEX bonus_by_person ON bonus (person, date);
CREATE INDEX job_by_number ON job (number);
CREATE INDEX job_by_first ON job (revises) WHERE revises IS NOT NULL;
CREATE INDEX customer_by_first ON customer (revises) WHERE revises IS NOT NULL;
CREATE INDEX invoice_by_number ON invoice (number);
CREATE INDEX purchase_order_by_number ON purchase_order (number);
CREATE INDEX payment_by_reference ON payment (reference);
CREATE INDEX part_price_by_part ON part_price (part, date);
CREATE INDEX color_choice_by_job ON color_choice (job);
CREATE INDEX recipe_by_name ON recipe (name, date);
CREATE INDEX roof_by_job ON roof (job);
CREATE INDEX work_check_by_job ON work_check (job);
CREATE INDEX inspection_by_job ON inspection (job);
CREATE INDEX installed_by_job ON installed (job);
CREATE INDEX warranty_by_job ON warranty (job);
CREATE INDEX schedule_by_job ON schedule (job);
CREATE INDEX lead_pamphlet_by_job ON lead_pamphlet (job);
CREATE INDEX insulation_receipt_by_job ON insulation_receipt (job);
CREATE INDEX contract_part_by_part ON contract_part (part) WHERE part IS NOT NULL;

-- Facts are never changed.
CREATE TRIGGER reversal_of_reversal BEFORE INSERT ON reversal
WHEN (SELECT kind FROM entry WHERE id = NEW.reverses) IN (
    'reversal', 'month-closed', 'hand-off', 'device', 'device-left'
)
BEGIN SELECT RAISE(ABORT, 'this kind of fact cannot be reversed'); END;
CREATE TRIGGER entry_refuses_update BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER entry_refuses_delete BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER firm_refuses_update BEFORE UPDATE ON firm
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER firm_refuses_delete BEFORE DELETE ON firm
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER device_refuses_update BEFORE UPDATE ON device
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER device_refuses_delete BEFORE DELETE ON device
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER device_left_refuses_update BEFORE UPDATE ON device_left
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER device_left_refuses_delete BEFORE DELETE ON device_left
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER crew_refuses_update BEFORE UPDATE ON crew
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER crew_refuses_delete BEFORE DELETE ON crew
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER person_refuses_update BEFORE UPDATE ON person
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER person_refuses_delete BEFORE DELETE ON person
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER customer_refuses_update BEFORE UPDATE ON customer
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER customer_refuses_delete BEFORE DELETE ON customer
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_refuses_update BEFORE UPDATE ON vendor
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_refuses_delete BEFORE DELETE ON vendor
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER cost_code_refuses_update BEFORE UPDATE ON cost_code
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER cost_code_refuses_delete BEFORE DELETE ON cost_code
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER pay_rate_refuses_update BEFORE UPDATE ON pay_rate
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER pay_rate_refuses_delete BEFORE DELETE ON pay_rate
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER burden_rate_refuses_update BEFORE UPDATE ON burden_rate
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER burden_rate_refuses_delete BEFORE DELETE ON burden_rate
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bonus_refuses_update BEFORE UPDATE ON bonus
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bonus_refuses_delete BEFORE DELETE ON bonus
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER account_refuses_update BEFORE UPDATE ON account
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER account_refuses_delete BEFORE DELETE ON account
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER job_refuses_update BEFORE UPDATE ON job
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER job_refuses_delete BEFORE DELETE ON job
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER job_status_refuses_update BEFORE UPDATE ON job_status
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER job_status_refuses_delete BEFORE DELETE ON job_status
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_refuses_update BEFORE UPDATE ON contract
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_refuses_delete BEFORE DELETE ON contract
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_line_refuses_update BEFORE UPDATE ON contract_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_line_refuses_delete BEFORE DELETE ON contract_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_units_refuses_update BEFORE UPDATE ON contract_units
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_units_refuses_delete BEFORE DELETE ON contract_units
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_unit_price_refuses_update BEFORE UPDATE ON contract_unit_price
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_unit_price_refuses_delete BEFORE DELETE ON contract_unit_price
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_payment_refuses_update BEFORE UPDATE ON contract_payment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_payment_refuses_delete BEFORE DELETE ON contract_payment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER purchase_order_refuses_update BEFORE UPDATE ON purchase_order
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER purchase_order_refuses_delete BEFORE DELETE ON purchase_order
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER purchase_order_line_refuses_update BEFORE UPDATE ON purchase_order_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER purchase_order_line_refuses_delete BEFORE DELETE ON purchase_order_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bill_refuses_update BEFORE UPDATE ON bill
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bill_refuses_delete BEFORE DELETE ON bill
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bill_line_refuses_update BEFORE UPDATE ON bill_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bill_line_refuses_delete BEFORE DELETE ON bill_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER overhead_account_refuses_update BEFORE UPDATE ON overhead_account
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER overhead_account_refuses_delete BEFORE DELETE ON overhead_account
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recurring_cost_refuses_update BEFORE UPDATE ON recurring_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recurring_cost_refuses_delete BEFORE DELETE ON recurring_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bill_overhead_refuses_update BEFORE UPDATE ON bill_overhead
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bill_overhead_refuses_delete BEFORE DELETE ON bill_overhead
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER overhead_cost_refuses_update BEFORE UPDATE ON overhead_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER overhead_cost_refuses_delete BEFORE DELETE ON overhead_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_payment_refuses_update BEFORE UPDATE ON vendor_payment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_payment_refuses_delete BEFORE DELETE ON vendor_payment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER budget_refuses_update BEFORE UPDATE ON budget
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER budget_refuses_delete BEFORE DELETE ON budget
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_statement_refuses_update BEFORE UPDATE ON bank_statement
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_statement_refuses_delete BEFORE DELETE ON bank_statement
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_statement_line_refuses_update BEFORE UPDATE ON bank_statement_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_statement_line_refuses_delete BEFORE DELETE ON bank_statement_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_cleared_refuses_update BEFORE UPDATE ON bank_cleared
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_cleared_refuses_delete BEFORE DELETE ON bank_cleared
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_cleared_item_refuses_update BEFORE UPDATE ON bank_cleared_item
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER bank_cleared_item_refuses_delete BEFORE DELETE ON bank_cleared_item
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_papers_refuses_update BEFORE UPDATE ON vendor_papers
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_papers_refuses_delete BEFORE DELETE ON vendor_papers
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_payment_bill_refuses_update BEFORE UPDATE ON vendor_payment_bill
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER vendor_payment_bill_refuses_delete BEFORE DELETE ON vendor_payment_bill
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER direct_cost_refuses_update BEFORE UPDATE ON direct_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER direct_cost_refuses_delete BEFORE DELETE ON direct_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER time_entry_refuses_update BEFORE UPDATE ON time_entry
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER time_entry_refuses_delete BEFORE DELETE ON time_entry
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER stored_material_refuses_update BEFORE UPDATE ON stored_material
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER stored_material_refuses_delete BEFORE DELETE ON stored_material
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER units_done_refuses_update BEFORE UPDATE ON units_done
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER units_done_refuses_delete BEFORE DELETE ON units_done
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER forecast_refuses_update BEFORE UPDATE ON forecast
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER forecast_refuses_delete BEFORE DELETE ON forecast
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_refuses_update BEFORE UPDATE ON condition
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_refuses_delete BEFORE DELETE ON condition
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_photo_refuses_update BEFORE UPDATE ON condition_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_photo_refuses_delete BEFORE DELETE ON condition_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER repair_refuses_update BEFORE UPDATE ON repair
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER repair_refuses_delete BEFORE DELETE ON repair
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_order_refuses_update BEFORE UPDATE ON change_order
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_order_refuses_delete BEFORE DELETE ON change_order
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_order_line_refuses_update BEFORE UPDATE ON change_order_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_order_line_refuses_delete BEFORE DELETE ON change_order_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_cost_refuses_update BEFORE UPDATE ON change_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_cost_refuses_delete BEFORE DELETE ON change_cost
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_cost_line_refuses_update BEFORE UPDATE ON change_cost_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER change_cost_line_refuses_delete BEFORE DELETE ON change_cost_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER decision_refuses_update BEFORE UPDATE ON decision
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER decision_refuses_delete BEFORE DELETE ON decision
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER decision_line_refuses_update BEFORE UPDATE ON decision_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER decision_line_refuses_delete BEFORE DELETE ON decision_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER invoice_refuses_update BEFORE UPDATE ON invoice
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER invoice_refuses_delete BEFORE DELETE ON invoice
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER invoice_line_refuses_update BEFORE UPDATE ON invoice_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER invoice_line_refuses_delete BEFORE DELETE ON invoice_line
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER retainage_release_refuses_update BEFORE UPDATE ON retainage_release
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER retainage_release_refuses_delete BEFORE DELETE ON retainage_release
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER payment_refuses_update BEFORE UPDATE ON payment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER payment_refuses_delete BEFORE DELETE ON payment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER allocation_refuses_update BEFORE UPDATE ON allocation
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER allocation_refuses_delete BEFORE DELETE ON allocation
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER refund_refuses_update BEFORE UPDATE ON refund
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER refund_refuses_delete BEFORE DELETE ON refund
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_refuses_update BEFORE UPDATE ON month_closed
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_refuses_delete BEFORE DELETE ON month_closed
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_device_refuses_update BEFORE UPDATE ON month_closed_device
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_device_refuses_delete BEFORE DELETE ON month_closed_device
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_labor_refuses_update BEFORE UPDATE ON month_closed_labor
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_labor_refuses_delete BEFORE DELETE ON month_closed_labor
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_job_refuses_update BEFORE UPDATE ON month_closed_job
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER month_closed_job_refuses_delete BEFORE DELETE ON month_closed_job
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_refuses_update BEFORE UPDATE ON hand_off
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_refuses_delete BEFORE DELETE ON hand_off
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_device_refuses_update BEFORE UPDATE ON hand_off_device
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_device_refuses_delete BEFORE DELETE ON hand_off_device
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_labor_refuses_update BEFORE UPDATE ON hand_off_labor
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_labor_refuses_delete BEFORE DELETE ON hand_off_labor
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_job_refuses_update BEFORE UPDATE ON hand_off_job
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER hand_off_job_refuses_delete BEFORE DELETE ON hand_off_job
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER attachment_refuses_update BEFORE UPDATE ON attachment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER attachment_refuses_delete BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER reversal_refuses_update BEFORE UPDATE ON reversal
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER reversal_refuses_delete BEFORE DELETE ON reversal
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_place_refuses_update BEFORE UPDATE ON contract_place
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_place_refuses_delete BEFORE DELETE ON contract_place
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_part_refuses_update BEFORE UPDATE ON contract_part
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER contract_part_refuses_delete BEFORE DELETE ON contract_part
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_patch_refuses_update BEFORE UPDATE ON condition_patch
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_patch_refuses_delete BEFORE DELETE ON condition_patch
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_mark_refuses_update BEFORE UPDATE ON condition_mark
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER condition_mark_refuses_delete BEFORE DELETE ON condition_mark
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER declined_repair_refuses_update BEFORE UPDATE ON declined_repair
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER declined_repair_refuses_delete BEFORE DELETE ON declined_repair
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER repair_photo_refuses_update BEFORE UPDATE ON repair_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER repair_photo_refuses_delete BEFORE DELETE ON repair_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER part_refuses_update BEFORE UPDATE ON part
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER part_refuses_delete BEFORE DELETE ON part
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER part_price_refuses_update BEFORE UPDATE ON part_price
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER part_price_refuses_delete BEFORE DELETE ON part_price
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER production_rate_refuses_update BEFORE UPDATE ON production_rate
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER production_rate_refuses_delete BEFORE DELETE ON production_rate
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER standard_refuses_update BEFORE UPDATE ON standard
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER standard_refuses_delete BEFORE DELETE ON standard
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recipe_refuses_update BEFORE UPDATE ON recipe
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recipe_refuses_delete BEFORE DELETE ON recipe
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recipe_waste_refuses_update BEFORE UPDATE ON recipe_waste
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recipe_waste_refuses_delete BEFORE DELETE ON recipe_waste
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recipe_vent_refuses_update BEFORE UPDATE ON recipe_vent
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER recipe_vent_refuses_delete BEFORE DELETE ON recipe_vent
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER part_color_refuses_update BEFORE UPDATE ON part_color
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER part_color_refuses_delete BEFORE DELETE ON part_color
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER color_choice_refuses_update BEFORE UPDATE ON color_choice
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER color_choice_refuses_delete BEFORE DELETE ON color_choice
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_refuses_update BEFORE UPDATE ON roof
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_refuses_delete BEFORE DELETE ON roof
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_section_refuses_update BEFORE UPDATE ON roof_section
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_section_refuses_delete BEFORE DELETE ON roof_section
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_corner_refuses_update BEFORE UPDATE ON roof_corner
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_corner_refuses_delete BEFORE DELETE ON roof_corner
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_edge_refuses_update BEFORE UPDATE ON roof_edge
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_edge_refuses_delete BEFORE DELETE ON roof_edge
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_feature_refuses_update BEFORE UPDATE ON roof_feature
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER roof_feature_refuses_delete BEFORE DELETE ON roof_feature
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER check_point_refuses_update BEFORE UPDATE ON check_point
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER check_point_refuses_delete BEFORE DELETE ON check_point
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER work_check_refuses_update BEFORE UPDATE ON work_check
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER work_check_refuses_delete BEFORE DELETE ON work_check
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER work_check_photo_refuses_update BEFORE UPDATE ON work_check_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER work_check_photo_refuses_delete BEFORE DELETE ON work_check_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER inspection_refuses_update BEFORE UPDATE ON inspection
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER inspection_refuses_delete BEFORE DELETE ON inspection
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER inspection_photo_refuses_update BEFORE UPDATE ON inspection_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER inspection_photo_refuses_delete BEFORE DELETE ON inspection_photo
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER installed_refuses_update BEFORE UPDATE ON installed
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER installed_refuses_delete BEFORE DELETE ON installed
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER warranty_refuses_update BEFORE UPDATE ON warranty
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER warranty_refuses_delete BEFORE DELETE ON warranty
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER answer_refuses_update BEFORE UPDATE ON answer
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER answer_refuses_delete BEFORE DELETE ON answer
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER answer_about_refuses_update BEFORE UPDATE ON answer_about
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER answer_about_refuses_delete BEFORE DELETE ON answer_about
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER schedule_refuses_update BEFORE UPDATE ON schedule
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER schedule_refuses_delete BEFORE DELETE ON schedule
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER notice_refuses_update BEFORE UPDATE ON notice
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER notice_refuses_delete BEFORE DELETE ON notice
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER lead_pamphlet_refuses_update BEFORE UPDATE ON lead_pamphlet
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER lead_pamphlet_refuses_delete BEFORE DELETE ON lead_pamphlet
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER insulation_receipt_refuses_update BEFORE UPDATE ON insulation_receipt
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER insulation_receipt_refuses_delete BEFORE DELETE ON insulation_receipt
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER insulation_receipt_part_refuses_update BEFORE UPDATE ON insulation_receipt_part
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
CREATE TRIGGER insulation_receipt_part_refuses_delete BEFORE DELETE ON insulation_receipt_part
BEGIN SELECT RAISE(ABORT, 'facts are never changed: record a reversal instead'); END;
