-- The roof as measured, what it is built of and what that costs, what code and company standard ask; the damage of a
-- condition in patches, with marks on its photos; how the work was done and what is warranted. Later columns of
-- earlier tables may all be NULL: a fact recorded before them keeps its hash.

-- A part of the roof system as contracted: what is bought for it, for the order list and the site sheet.
CREATE TABLE contract_part (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
    )),
    part BLOB REFERENCES part(id) CHECK (length(part) = 16),
    description TEXT NOT NULL CHECK (length(description) > 0),
    net_e4 INTEGER NOT NULL,
    waste_e6 INTEGER NOT NULL,
    packages_e4 INTEGER NOT NULL,
    cost_cents INTEGER NOT NULL,
    working TEXT CHECK (length(working) > 0),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- How much of an item lies at one place of the roof, for the site sheet.
CREATE TABLE contract_place (
    fact BLOB NOT NULL REFERENCES contract(id),
    line INTEGER NOT NULL CHECK (line > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
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

-- A photo taken at a step of the work.
CREATE TABLE repair_photo (
    fact BLOB NOT NULL REFERENCES repair(id),
    line INTEGER NOT NULL CHECK (line > 0),
    photo BLOB NOT NULL CHECK (length(photo) = 32),
    original BLOB CHECK (length(original) = 32),
    PRIMARY KEY (fact, line)
) STRICT, WITHOUT ROWID;

-- A part as the firm buys it: which item of a roof it decisions, and how it is packaged.
CREATE TABLE part (
    id BLOB NOT NULL PRIMARY KEY REFERENCES entry(id),
    revises BLOB REFERENCES part(id) DEFERRABLE INITIALLY DEFERRED CHECK (length(revises) = 16),
    name TEXT NOT NULL CHECK (length(name) > 0),
    title TEXT NOT NULL CHECK (length(title) > 0),
    item TEXT NOT NULL CHECK (item IN (
        'tear-off', 'haul', 'deck-sheet', 'deck-board', 'barrier', 'underlayment', 'drip-edge', 'starter',
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
    )),
    code BLOB NOT NULL REFERENCES cost_code(id) CHECK (length(code) = 16),
    cost_kind TEXT NOT NULL CHECK (cost_kind IN (
        'material', 'labor', 'subcontract', 'equipment', 'disposal', 'permit', 'other'
    )),
    package TEXT NOT NULL CHECK (length(package) > 0),
    covers_e4 INTEGER NOT NULL,
    free_area_sqin_e4 INTEGER,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    CHECK (covers_e4 > 0)
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
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
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
        'starter-rake', 'valley-metal-width', 'valley-edge-strips', 'step-flashing-side', 'kick-out',
        'vent-ratio', 'nails-each', 'new-flashings'
    )),
    origin TEXT NOT NULL CHECK (origin IN ('code', 'company')),
    value_e4 INTEGER NOT NULL,
    source TEXT CHECK (length(source) > 0),
    CHECK (value_e4 >= 0)
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
    balanced_vents INTEGER NOT NULL CHECK (balanced_vents IN (0, 1)),
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
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
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
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
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
        'shingles', 'valley-metal', 'step-flashing', 'apron', 'counter-flashing', 'kick-out', 'chimney-flashing',
        'skylight-flashing', 'pipe-boot', 'ridge-vent', 'box-vent', 'turbine-vent', 'power-vent', 'intake',
        'ridge-cap', 'fasteners', 'insulation', 'gutter', 'downspout', 'permit', 'machine', 'other'
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

-- What earlier kinds now say beyond what they said before.
ALTER TABLE contract ADD COLUMN choice TEXT CHECK (length(choice) > 0);
ALTER TABLE contract ADD COLUMN choice_title TEXT CHECK (length(choice_title) > 0);
ALTER TABLE contract ADD COLUMN roof BLOB REFERENCES roof(id) CHECK (length(roof) = 16);
ALTER TABLE contract ADD COLUMN proposal BLOB CHECK (length(proposal) = 32);
ALTER TABLE condition_photo ADD COLUMN original BLOB CHECK (length(original) = 32);
ALTER TABLE condition ADD COLUMN moisture_e4 INTEGER;
ALTER TABLE condition ADD COLUMN calculated_e4 INTEGER;
ALTER TABLE condition ADD COLUMN x_in_e4 INTEGER;
ALTER TABLE condition ADD COLUMN y_in_e4 INTEGER;
ALTER TABLE repair ADD COLUMN note TEXT CHECK (length(note) > 0);
ALTER TABLE change_order ADD COLUMN if_left TEXT CHECK (length(if_left) > 0);

-- Ways in that the pages need.
CREATE INDEX part_price_by_part ON part_price (part, date);
CREATE INDEX roof_by_job ON roof (job);
CREATE INDEX work_check_by_job ON work_check (job);
CREATE INDEX inspection_by_job ON inspection (job);
CREATE INDEX installed_by_job ON installed (job);
CREATE INDEX warranty_by_job ON warranty (job);
CREATE INDEX contract_part_by_part ON contract_part (part) WHERE part IS NOT NULL;

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
