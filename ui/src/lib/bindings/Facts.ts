/** What is recorded, by the word of its kind. */
export interface Facts {
  'firm': {
    date: string;
    name: string;
    town: string;
    state: string;
    street?: string;
    zip?: string;
    phone?: string;
    license?: string;
    logo?: string;
    lead_certificate?: string;
    currency: string;
    week_begins: 'monday' | 'tuesday' | 'wednesday' | 'thursday' | 'friday' | 'saturday' | 'sunday';
    overtime_over_week: string;
    overtime_over_day?: string;
    premium_to: 'hours' | 'cause';
    sales_tax: string;
    sales_tax_rounding: 'invoice' | 'item';
    material_tax_is_cost: boolean;
    overhead_by: 'labor-hours' | 'labor-cost' | 'crew-days';
    overhead_rate: string;
    books_see_margin?: boolean;
  };
  'device': {
    date: string;
    letter: string;
    name: string;
    role?: 'owner' | 'crew' | 'books';
    person?: string;
    signs_with?: string;
    locks_with?: string;
  };
  'device-left': {
    date: string;
    device: string;
    last_seq: number;
    reason?: string;
  };
  'crew': {
    revises?: string;
    date?: string;
    name: string;
    size: number;
    hours_a_day: string;
  };
  'person': {
    revises?: string;
    date?: string;
    name: string;
    role: 'owner' | 'crew' | 'books';
    crew?: string;
    class?: string;
    left_on?: string;
    language?: 'en' | 'es';
  };
  'customer': {
    revises?: string;
    name: string;
    address?: string;
    phone?: string;
    email?: string;
  };
  'vendor': {
    revises?: string;
    name: string;
    subcontractor?: boolean;
    due_days?: number;
  };
  'cost-code': {
    revises?: string;
    code: string;
    title: string;
    unit?: string;
    bought_in?: string;
    position: number;
  };
  'pay-rate': {
    date: string;
    person: string;
    hourly: string;
  };
  'burden-rate': {
    date: string;
    name: string;
    calculated_on: 'pay' | 'hundred-of-pay' | 'hour';
    rate: string;
    wage_base?: string;
    class?: string;
    on_premium?: boolean;
    source?: string;
  };
  'bonus': {
    date: string;
    person: string;
    amount: string;
    note?: string;
  };
  'account': {
    line: 'bank' | 'receivable' | 'retainage-receivable' | 'customer-credit' | 'sales-tax-payable' | 'payable' | 'wages-payable' | 'burden-payable' | 'costs-applied' | 'cost-material' | 'cost-labor' | 'cost-subcontract' | 'cost-equipment' | 'cost-disposal' | 'cost-permit' | 'cost-other' | 'revenue' | 'under-billed' | 'over-billed' | 'loss-provision' | 'loss-expense' | 'overhead' | 'set-aside' | 'discounts-taken';
    number?: string;
    name: string;
  };
  'job': {
    revises?: string;
    date: string;
    number: string;
    title: string;
    customer: string;
    site: string;
    state?: string;
    crew?: string;
    roof_age_years?: number;
    roof_state?: string;
  };
  'job-status': {
    date: string;
    job: string;
    stage: 'begun' | 'finished' | 'canceled';
  };
  'schedule': {
    date: string;
    job: string;
    begins: string;
    ends?: string;
    note?: string;
    crew?: string;
    crew_days?: string;
  };
  'contract': {
    date: string;
    job: string;
    price: string;
    included_sheets?: string;
    included_feet?: string;
    retainage?: string;
    note?: string;
    choice?: string;
    choice_title?: string;
    roof?: string;
    sold_at_home?: boolean;
    recipe?: string;
    proposal?: string;
    lines?: {
      code: string;
      cost_kind: 'material' | 'labor' | 'subcontract' | 'equipment' | 'disposal' | 'permit' | 'other';
      description?: string;
      amount: string;
      quantity?: string;
      unit?: string;
      hours?: string;
    }[];
    units?: {
      code: string;
      quantity: string;
    }[];
    unit_prices?: {
      damaged: 'deck-sheet' | 'deck-board' | 'rafter' | 'wall-sheathing' | 'framing' | 'insulation' | 'fascia' | 'soffit' | 'trim' | 'hidden-layer';
      counted_in: 'sheet' | 'foot' | 'square-foot' | 'each';
      price: string;
    }[];
    payments?: {
      title: string;
      amount: string;
    }[];
    parts?: {
      item: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
      part?: string;
      description: string;
      product_line?: string;
      color?: string;
      net: string;
      waste: string;
      packages: string;
      cost: string;
      working?: string;
    }[];
    places?: {
      item: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
      edge?: 'eave' | 'rake' | 'valley' | 'hip' | 'ridge' | 'wall' | 'headwall' | 'transition';
      feature?: 'pipe' | 'chimney' | 'skylight' | 'wall-end' | 'old-vent';
      net: string;
    }[];
  };
  'overhead-account': {
    revises?: string;
    number?: string;
    name: string;
  };
  'recurring-cost': {
    revises?: string;
    date: string;
    account: string;
    description: string;
    amount: string;
    every: 'month' | 'quarter' | 'year';
    vendor?: string;
    owed_from?: 'bank' | 'wages' | 'set-aside';
    until?: string;
  };
  'purchase-order': {
    date: string;
    job: string;
    vendor: string;
    number: string;
    expected_on?: string;
    lines?: {
      code: string;
      cost_kind: 'material' | 'labor' | 'subcontract' | 'equipment' | 'disposal' | 'permit' | 'other';
      description?: string;
      quantity?: string;
      unit?: string;
      amount: string;
      part?: string;
    }[];
  };
  'bill': {
    date: string;
    vendor: string;
    reference: string;
    purchase_order?: string;
    completes_order?: boolean;
    credit?: boolean;
    note?: string;
    due?: string;
    picture?: string;
    lines?: {
      job: string;
      code: string;
      cost_kind: 'material' | 'labor' | 'subcontract' | 'equipment' | 'disposal' | 'permit' | 'other';
      description?: string;
      quantity?: string;
      unit?: string;
      unit_price?: string;
      amount: string;
      tax?: string;
      condition?: string;
      came?: string;
      part?: string;
    }[];
    overhead?: {
      account: string;
      description?: string;
      amount: string;
      tax?: string;
      recurring?: string;
    }[];
  };
  'direct-cost': {
    date: string;
    job: string;
    code: string;
    cost_kind: 'material' | 'labor' | 'subcontract' | 'equipment' | 'disposal' | 'permit' | 'other';
    description: string;
    amount: string;
    condition?: string;
    equipment?: string;
  };
  'overhead-cost': {
    date: string;
    account: string;
    description: string;
    amount: string;
    owed_from: 'bank' | 'wages' | 'set-aside';
    recurring?: string;
  };
  'vendor-payment': {
    date: string;
    vendor: string;
    method: 'check' | 'card' | 'transfer' | 'cash';
    reference?: string;
    bills?: {
      bill: string;
      amount: string;
      discount?: string;
    }[];
  };
  'vendor-papers': {
    date: string;
    vendor: string;
    tin?: string;
    w9_signed?: string;
    insured_until?: string;
  };
  'budget': {
    date: string;
    month: string;
    sales: string;
    cost: string;
    overhead: string;
    crew_days: string;
  };
  'time-entry': {
    date: string;
    person: string;
    job: string;
    code: string;
    hours: string;
    crew?: string;
    caused_overtime?: boolean;
    condition?: string;
  };
  'stored-material': {
    date: string;
    job: string;
    code: string;
    amount: string;
  };
  'units-done': {
    date: string;
    job: string;
    code: string;
    quantity: string;
  };
  'forecast': {
    date: string;
    job: string;
    code: string;
    amount: string;
    note?: string;
  };
  'condition': {
    date: string;
    job: string;
    number: string;
    place: 'field' | 'eave' | 'rake' | 'valley' | 'hip' | 'ridge' | 'roof-to-wall' | 'chimney' | 'skylight' | 'pipe';
    side?: string;
    cause: 'missing-kick-out' | 'failed-flashing' | 'ice-dam' | 'condensation' | 'puncture' | 'old-leak' | 'other' | 'not-said';
    damaged: 'deck-sheet' | 'deck-board' | 'rafter' | 'wall-sheathing' | 'framing' | 'insulation' | 'fascia' | 'soffit' | 'trim' | 'hidden-layer';
    counted_in: 'sheet' | 'foot' | 'square-foot' | 'each';
    count: string;
    count_reason?: string;
    note?: string;
    for_homeowner?: string;
    moisture?: string;
    calculated?: string;
    x_in?: string;
    y_in?: string;
    photos?: {
      photo: string;
      original?: string;
    }[];
    patches?: {
      along_eave_in: string;
      up_slope_in: string;
      from_rafter_in?: string;
    }[];
    marks?: {
      photo: number;
      kind: 'arrow' | 'ring' | 'note';
      x: string;
      y: string;
      to_x?: string;
      to_y?: string;
      words?: string;
    }[];
  };
  'repair': {
    date: string;
    condition: string;
    stage: 'begun' | 'done';
    note?: string;
    photos?: {
      photo: string;
      original?: string;
    }[];
  };
  'change-order': {
    date: string;
    job: string;
    number: string;
    title: string;
    pricing: 'unit-price' | 'time-and-material' | 'lump-sum';
    markup?: string;
    not_to_exceed?: string;
    days?: number;
    if_left?: string;
    lines?: {
      code: string;
      cost_kind: 'material' | 'labor' | 'subcontract' | 'equipment' | 'disposal' | 'permit' | 'other';
      condition?: string;
      description: string;
      quantity?: string;
      unit?: string;
      price: string;
      cost?: string;
      hours?: string;
    }[];
  };
  'change-cost': {
    date: string;
    change_order: string;
    note?: string;
    lines?: {
      change_line: number;
      cost: string;
    }[];
  };
  'decision': {
    date: string;
    change_order: string;
    verdict: 'approved' | 'declined' | 'withdrawn';
    decided_by: string;
    method?: 'signed' | 'phone' | 'text' | 'email';
    signature?: string;
    caution_given?: boolean;
    note?: string;
    lines?: {
      change_line: number;
      verdict: 'approved' | 'declined' | 'withdrawn';
    }[];
  };
  'declined-repair': {
    date: string;
    condition: string;
    course: 'own-cost' | 'by-others' | 'stop';
    note?: string;
  };
  'invoice': {
    date: string;
    job: string;
    number: string;
    purpose: 'deposit' | 'progress' | 'change-order' | 'final' | 'credit';
    due: string;
    tax?: string;
    retainage?: string;
    credits?: string;
    note?: string;
    lines?: {
      description: string;
      amount: string;
      taxable?: boolean;
      change_order?: string;
    }[];
  };
  'retainage-release': {
    date: string;
    invoice: string;
    amount: string;
    due: string;
  };
  'payment': {
    date: string;
    customer: string;
    amount: string;
    method: 'check' | 'card' | 'transfer' | 'cash';
    reference?: string;
  };
  'allocation': {
    date: string;
    payment?: string;
    credit?: string;
    invoice: string;
    amount: string;
  };
  'refund': {
    date: string;
    customer: string;
    payment?: string;
    credit?: string;
    amount: string;
    method: 'check' | 'card' | 'transfer' | 'cash';
    reference?: string;
  };
  'bank-statement': {
    date: string;
    begins: string;
    account?: string;
    opening: string;
    closing: string;
    lines?: {
      date: string;
      amount: string;
      words: string;
      number?: string;
      bank_id?: string;
    }[];
  };
  'bank-cleared': {
    date: string;
    statement: string;
    place: number;
    other?: 'wages' | 'taxes' | 'owner' | 'own-account' | 'loan' | 'bank-error' | 'something-else';
    note?: string;
    items?: {
      payment?: string;
      refund?: string;
      vendor_payment?: string;
      overhead_cost?: string;
    }[];
  };
  'month-closed': {
    date: string;
    month: string;
    devices?: {
      device: string;
      through_seq: number;
    }[];
    labor?: {
      job: string;
      code: string;
      condition?: string;
      straight: string;
      premium: string;
      burden: string;
    }[];
    jobs?: {
      job: string;
      contract: string;
      cost: string;
      forecast: string;
      earned: string;
      billed: string;
      loss_provision: string;
    }[];
  };
  'hand-off': {
    date: string;
    month: string;
    part: number;
    journal_debits: string;
    files: string;
    devices?: {
      device: string;
      through_seq: number;
    }[];
    labor?: {
      source?: string;
      job: string;
      code: string;
      condition?: string;
      straight: string;
      premium: string;
      burden: string;
    }[];
    jobs?: {
      job: string;
      over_billed: string;
      under_billed: string;
      loss_provision: string;
    }[];
  };
  'attachment': {
    date: string;
    hash: string;
    media_type: string;
    bytes: number;
    name?: string;
  };
  'reversal': {
    date: string;
    reverses: string;
    reason: string;
  };
  'answer': {
    date: string;
    question: 'decisions' | 'change-cost' | 'number' | 'contract' | 'allocation' | 'repair' | 'hours' | 'finished' | 'checks' | 'month' | 'bank' | 'reversed';
    note?: string;
    about?: {
      about: string;
    }[];
  };
  'part': {
    revises?: string;
    name: string;
    title: string;
    item: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
    code: string;
    cost_kind: 'material' | 'labor' | 'subcontract' | 'equipment' | 'disposal' | 'permit' | 'other';
    package: string;
    covers: string;
    shingle?: 'laminated' | 'strip' | 'individual';
    pieces_per_square?: string;
    exposure_in?: string;
    nails_each?: string;
    free_area_sqin?: string;
    cfm?: string;
    product_line?: string;
    retired?: boolean;
    colors?: {
      color: string;
    }[];
  };
  'part-price': {
    date: string;
    part: string;
    vendor?: string;
    price: string;
  };
  'color-choice': {
    date: string;
    job: string;
    part: string;
    color: string;
    chosen_by: string;
  };
  'production-rate': {
    date: string;
    item: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
    steepness: 'low' | 'walkable' | 'steep' | 'very-steep';
    stories: number;
    code: string;
    hours: string;
  };
  'standard': {
    date: string;
    topic: 'barrier-eave' | 'barrier-eave-inside' | 'barrier-eave-along' | 'barrier-eave-along-from' | 'barrier-rake' | 'barrier-valley' | 'barrier-hip' | 'barrier-ridge' | 'barrier-wall' | 'barrier-penetration' | 'least-slope' | 'double-underlayment-below' | 'drip-edge-eave' | 'drip-edge-rake' | 'drip-edge-lap' | 'starter-eave' | 'starter-rake' | 'valley-metal-width' | 'valley-lining' | 'valley-edge-strips' | 'step-flashing-side' | 'kick-out' | 'cricket-over' | 'vent-ratio' | 'vent-upper-least' | 'vent-upper-most' | 'vent-both' | 'vent-retarder-zone' | 'nails-each' | 'nails-individual' | 'nails-high-wind' | 'nails-steep-over' | 'new-flashings';
    origin: 'code' | 'company';
    value: string;
    source?: string;
  };
  'recipe': {
    date: string;
    name: string;
    job?: string;
    usual?: boolean;
    retired?: boolean;
    walkable_from: string;
    steep_from: string;
    very_steep_from: string;
    valley: 'open' | 'open-three-layer' | 'open-roll' | 'closed-cut';
    valley_lining: 'membrane' | 'smooth-roll' | 'mineral-roll' | 'metal';
    valley_metal_width_in: string;
    valley_edge_strip_in: string;
    shingle: 'laminated' | 'strip' | 'individual';
    shingle_nails?: string;
    starter_piece_in: string;
    starter_nails: string;
    cap_nails: string;
    underlayment_nails: string;
    deck_in: string;
    exposure_in: string;
    cap_exposure_in: string;
    barrier_roll_in: string;
    barrier_lap_in: string;
    eave_rows?: number;
    underlayment_roll_in: string;
    underlayment_lap_in: string;
    underlayment_over_barrier: boolean;
    drip_edge_piece_ft: string;
    flashing_piece_ft: string;
    flashing_lap_in: string;
    step_flashing_side_in: string;
    masonry_walls: boolean;
    pipe_in: string;
    opening_in: string;
    shingles_per_square: string;
    layer_lb_per_square: string;
    layer_yards_per_square: string;
    container_tons: string;
    container_yards: string;
    vented_eave_ft?: string;
    power_cfm_per_sqft: string;
    intake_cfm_per_sqft: string;
    included_sheets: string;
    included_board_ft: string;
    insulation_depth_in?: string;
    gutters: boolean;
    gutter_corners: number;
    downspouts?: number;
    downspout_every_ft: string;
    downspout_story_ft: string;
    permits: number;
    machine_days: string;
    waste?: {
      item: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
      cut_up: 'plain' | 'some' | 'much';
      share: string;
    }[];
    vents?: {
      vent: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
      free_area_sqin?: string;
      cfm?: string;
      fixed?: string;
    }[];
  };
  'roof': {
    date: string;
    job: string;
    stories: number;
    deck: 'plywood' | 'strand-board' | 'boards' | 'spaced-boards';
    rafter_spacing_in: string;
    overhang_in: string;
    wall_thickness_in: string;
    layers: number;
    attic_floor_sqft: string;
    climate_zone?: number;
    vapor_retarder: boolean;
    high_wind: boolean;
    cut_up: 'plain' | 'some' | 'much';
    built_before_1978: boolean;
    north_deg: number;
    sections?: {
      name: string;
      slope: string;
      area_sqft?: string;
    }[];
    corners?: {
      section: number;
      x_in: string;
      y_in: string;
      edge: 'eave' | 'rake' | 'valley' | 'hip' | 'ridge' | 'wall' | 'headwall' | 'transition';
    }[];
    edges?: {
      section: number;
      kind: 'eave' | 'rake' | 'valley' | 'hip' | 'ridge' | 'wall' | 'headwall' | 'transition';
      length_ft: string;
    }[];
    features?: {
      kind: 'pipe' | 'chimney' | 'skylight' | 'wall-end' | 'old-vent';
      section?: number;
      x_in?: string;
      y_in?: string;
      width_in?: string;
      length_in?: string;
      count: number;
      free_area_sqin?: string;
      vent?: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
    }[];
  };
  'check-point': {
    revises?: string;
    item?: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
    words: string;
    blocks?: boolean;
    position: number;
    retired?: boolean;
  };
  'work-check': {
    date: string;
    job: string;
    point: string;
    state: 'good' | 'open' | 'not-here';
    person: string;
    note?: string;
    photos?: {
      photo: string;
      original?: string;
    }[];
  };
  'inspection': {
    date: string;
    job: string;
    title: string;
    inspector: string;
    passed: boolean;
    note?: string;
    photos?: {
      photo: string;
      original?: string;
    }[];
  };
  'installed': {
    date: string;
    job: string;
    item: 'tear-off' | 'haul' | 'deck-sheet' | 'deck-board' | 'barrier' | 'underlayment' | 'drip-edge' | 'starter' | 'shingles' | 'valley-metal' | 'roll-roofing' | 'step-flashing' | 'apron' | 'counter-flashing' | 'kick-out' | 'cricket' | 'chimney-flashing' | 'skylight-flashing' | 'pipe-boot' | 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake' | 'ridge-cap' | 'fasteners' | 'insulation' | 'baffle' | 'gutter' | 'downspout' | 'permit' | 'machine' | 'set-up' | 'covering' | 'clean-up' | 'driving' | 'other';
    description: string;
    place?: 'field' | 'eave' | 'rake' | 'valley' | 'hip' | 'ridge' | 'roof-to-wall' | 'chimney' | 'skylight' | 'pipe';
    side?: string;
    lot?: string;
    quantity?: string;
    photo?: string;
  };
  'warranty': {
    date: string;
    job: string;
    begins: string;
    years: number;
    terms: string;
    care?: string;
  };
  'notice': {
    date: string;
    state: string;
    about: 'cancellation' | 'deposit' | 'lien';
    heading: string;
    text: string;
    copies: number;
    least_points: number;
    bold?: boolean;
    retired?: boolean;
  };
  'lead-pamphlet': {
    date: string;
    job: string;
    shown_by: 'signed-receipt' | 'certificate-of-mailing';
    given_to: string;
    paper?: string;
    note?: string;
  };
  'insulation-receipt': {
    date: string;
    job: string;
    installer: string;
    note?: string;
    parts?: {
      place: string;
      material: string;
      loose_fill?: boolean;
      coverage_sqft: string;
      thickness_in: string;
      settled_in?: string;
      r_value: string;
      bags?: number;
    }[];
  };
}
