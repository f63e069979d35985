package formats

const intro = `Files are YAML, with the unit in the value: "0.85 ft3", "12 in", "2 x 4 ohm",
"39.00 USD", "7.5 %". A decimal comma is read where it cannot mean thousands.
An unknown key is an error, with the nearest known one suggested. All errors of
all files are shown at once, each with its line and column, and nothing is half
loaded. Several files, or a folder with folders in it, make one catalogue;
vehicles, briefs and builds may lie in the same folder.
`

// Example is one file that can be read as it stands.
type Example struct{ Title, Name, Text string }

// Examples are one of each file.
var Examples = []Example{
	{"A catalogue", "parts.yaml", `parts:
  - sku: TM-12V
    kind: subwoofer
    name: Tamsel 12-inch value
    price: 39.00 USD
    size: 12 in
    coils: 2 x 4 ohm
    rms: 250 W
    fs: 31 Hz
    qts: 0.60
    vas: 58 L
    xmax: 9 mm
  - sku: OR-4C
    kind: amplifier
    price: 99.00 USD
    channels: 4
    class: AB
    fuse: 30 A
    ratings:
      - {mode: stereo, load: 4 ohm, watts: 50, basis: standard}
      - {mode: bridged, load: 4 ohm, watts: 150, basis: standard}
    high_pass: true
    speaker_input: true
  - sku: KE-S12
    kind: enclosure
    price: 42.00 USD
    type: sealed
    holes: 1 x 12 in
    volume: 0.85 ft3
    outside: 38 x 36 x 33 cm
  - sku: KE-K8
    kind: wiring kit
    price: 27.00 USD
    gauge: 8 AWG
    length: 5 m
    fuse: 40 A
  - sku: HU-STOCK             # no price: it can only be owned
    kind: source
    power: 4 x 15 W
    load: 4 ohm
    basis: measured
`},
	{"A file of deals", "deals.yaml", `deals:
  - name: amplifier and cable
    parts: [OR-4C, KE-K8]    # or "OR-4C x 2"
    price: 115 USD           # for the set
    limit: 1                 # once a customer
  - {name: from the third on, sku: TM-12V, from: 3, price: 30 USD}
  - {name: second at half price, sku: KE-S12, every: 2, off: 50 %}
`},
	{"One part in several shops, and what going to a shop costs", "shops.yaml", `parts:
  - sku: KE-K4
    kind: wiring kit
    price: 39.00 USD
    store: Dock Street
    stock: 5
    gauge: 4 AWG
    length: 5 m
    fuse: 80 A
    offers:                  # what other shops take for it
      - {store: Pell Street, price: 35.00 USD, stock: 1}
stores:
  - {name: Pell Street, trip: 3 USD}    # once, however much is bought there
`},
	{"A brief", "brief.yaml", `name: first system
cap: 250 USD                # everything included
tax: 7.5 %
vehicle: blue sedan         # of a vehicle file, a body style, or open field
goal: reading               # or music
place: dash
openings: doors open
front: keep                 # keep | replace | either
owned: [HU-STOCK]
never: []
space: 95 x 45 x 50 cm
alternator: 70 A
`},
	{"A file of vehicles", "vehicles.yaml", `vehicles:
  - name: blue sedan
    body: small sedan
    inside: 330 x 137 x 108 cm
    first_mode_q: 5
    space: 95 x 45 x 50 cm
    alternator: 70 A
    standby: 25 A
    cable_run: 4.5 m
    places:
      second row: 200 40 95 cm
`},
	{"A build to predict", "build.yaml", `vehicle: blue sedan
place: dash
openings: doors open
owned: [HU-STOCK]
parts: [HU-STOCK, OR-4C, TM-12V, KE-S12, KE-K8]
mode: bridged
load: 8 ohm
`},
	{"A file of readings", "readings.yaml", `vehicle: blue sedan
build: build.yaml            # or demo:NAME, or "OR-4C, TM-12V, KE-S12; bridged; 8 ohm"
date: 2026-03-07
openings: doors open         # keys above the list hold for all of it
tolerance: 0.5 dB
readings:
  - {place: dash, frequency: 40 Hz, level: 121.5 dB, clamp_voltage: 24.8 V, clamp_current: 3.4 A}
  - {place: headrest, openings: shut, frequency: 50 Hz, level: 118.0 dB}
`},
	{"The shop's own settings", "shop.yaml", `shop: Dock Street Sound
address: [12 Dock Street, Northhaven]
contact: [555 0100]
valid: 30                    # days that a quote holds
terms: [Half of the price with the order.]
`},
	{"A plan, for a chain", "plan.yaml", `catalogues: [shops/*, outlet.yaml]    # a shop each
centre: centre/              # what the shops differ from in prices and stock
vehicles: [vehicles.yaml]    # all of their cars
caps: [250 USD, 500 USD]
goals: [reading, music]
results: night.csv           # or .jsonl, .parquet
`},
	{"A mapping, for a list whose columns import does not know by their names", "dock-street.map", MappingExample},
}

// MappingExample is a mapping for MappedList.
const MappingExample = `kind: amplifier
currency: USD
columns:
  - {name: F-No, key: sku}
  - {name: ch., key: channels}
  - {name: W@4, key: ratings, mode: stereo, load: 4 ohm, basis: claimed}
  - {name: A, key: fuse, unit: A}
  - {name: shelf, ignore: true}
`

// MappedList is a shop's list with such columns.
const MappedList = `F-No,class,ch.,W@4,A,shelf,price
OR-2,AB,2,60,25,7b,59.00
`
