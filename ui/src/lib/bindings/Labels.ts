/** Written by the program: what a person reads for the words of the trade. */

/** What an item is called, in the order of work. */
export const ITEMS = {
  "tear-off": "Tear-off",
  "haul": "Haul-off and dump fees",
  "deck-sheet": "Deck sheet",
  "deck-board": "Deck board",
  "barrier": "Membrane",
  "underlayment": "Underlayment",
  "drip-edge": "Drip edge",
  "starter": "Starter",
  "shingles": "Field shingles",
  "valley-metal": "Valley metal",
  "step-flashing": "Step flashing",
  "apron": "Apron flashing",
  "counter-flashing": "Counter-flashing",
  "kick-out": "Kick-out",
  "chimney-flashing": "Chimney flashing",
  "skylight-flashing": "Skylight flashing",
  "pipe-boot": "Pipe boot",
  "ridge-vent": "Ridge vent",
  "box-vent": "Box vent",
  "turbine-vent": "Turbine vent",
  "power-vent": "Power vent",
  "intake": "Intake vent",
  "ridge-cap": "Ridge and hip cap",
  "fasteners": "Fasteners",
  "insulation": "Attic insulation",
  "gutter": "Gutter",
  "downspout": "Downspout",
  "permit": "Permit",
  "machine": "Lift or other machine",
  "other": "Anything else",
} as const;

/** What a topic asks about, and in what; the unit is empty where it is a yes or a no. */
export const TOPICS = {
  "barrier-eave": { title: "Ice barrier at eaves", unit: "" },
  "barrier-eave-inside": { title: "Ice barrier at eaves, level inside the wall line", unit: "in" },
  "barrier-eave-along": { title: "Ice barrier at eaves, least width along a steep slope", unit: "in" },
  "barrier-eave-along-from": { title: "That least width counts from", unit: "in 12" },
  "barrier-rake": { title: "Membrane along rakes, width", unit: "in" },
  "barrier-valley": { title: "Membrane in valleys, width", unit: "in" },
  "barrier-hip": { title: "Membrane along hips, width", unit: "in" },
  "barrier-ridge": { title: "Membrane along ridges, width", unit: "in" },
  "barrier-wall": { title: "Membrane along walls, width", unit: "in" },
  "barrier-penetration": { title: "Membrane round penetrations, each side", unit: "in" },
  "least-slope": { title: "Least slope for shingles", unit: "in 12" },
  "double-underlayment-below": { title: "Underlayment doubled under", unit: "in 12" },
  "drip-edge-eave": { title: "Drip edge at eaves", unit: "" },
  "drip-edge-rake": { title: "Drip edge at rakes", unit: "" },
  "drip-edge-lap": { title: "Drip edge lap", unit: "in" },
  "starter-eave": { title: "Starter at eaves", unit: "" },
  "starter-rake": { title: "Starter at rakes", unit: "" },
  "valley-metal-width": { title: "Metal in open valleys, least width", unit: "in" },
  "valley-edge-strips": { title: "Strips over the edges of valley metal", unit: "" },
  "step-flashing-side": { title: "Step flashing, least side", unit: "in" },
  "kick-out": { title: "Kick-out where an eave ends at a wall", unit: "" },
  "vent-ratio": { title: "Attic floor for each unit of net free area", unit: "to 1" },
  "nails-each": { title: "Nails in each shingle", unit: "nails" },
  "new-flashings": { title: "New flashings in place of the old", unit: "" },
} as const;

/** How steep a roof is. Where one ends and the next begins stands in a recipe. */
export const STEEPNESS = {
  "low": "Low",
  "walkable": "Walkable",
  "steep": "Steep",
  "very-steep": "Very steep",
} as const;

/** What a cost is for. */
export const COST_KINDS = {
  "material": "Material",
  "labor": "Labor",
  "subcontract": "Subcontract",
  "equipment": "Equipment",
  "disposal": "Disposal",
  "permit": "Permit",
  "other": "Other",
} as const;
