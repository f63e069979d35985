"""Are the premises in order? Works every number that was worked out of cards out once
more, by the formula named, and says which part, on which line of which file, differs.

    python3 cards.py            # reads premises.json

What stands on a card itself (a price, a power, a diameter) is to be held against the
card: "at" says where it is. "origin" says what of a driver nobody stated.
"""
import json, math, os, sys

HERE = os.path.dirname(os.path.abspath(__file__))
BIG = (1 << 60) - 1     # nothing is so dear


def lower(p, n=1):
    return n * p["each"] + max(0, n - p["owned"]) * p["least"]


def near(a, b):
    return abs(a - b) <= 1e-6 * max(abs(a), abs(b))


def driver(P, p):
    """fs = 1/(2 pi sqrt(Mms Cms)), Qms = 2 pi fs Mms/Rms, Qes = 2 pi fs Mms Re/(C Bl^2),
    Qts = Qms Qes/(Qms + Qes), Vas = rho c^2 Sd^2 Cms: of one coil, the force of C of
    them (Thiele 1971, Small 1972)."""
    d, r = p["driver"], P["rules"]
    w = 2 * math.pi * d["Fs"]
    yield "fs of mass and compliance", d["Fs"], 1 / (2 * math.pi * math.sqrt(d["Mms"] * d["Cms"]))
    yield "Qms of mass and losses", d["Qms"], w * d["Mms"] / d["Rms"]
    yield "Qes of motor", d["Qes"], w * d["Mms"] * d["Re"] / d["Bl"] ** 2 / d["Coils"]
    yield "Qts", d["Qts"], d["Qms"] * d["Qes"] / (d["Qms"] + d["Qes"])
    yield "Vas of area and compliance", d["Vas"], r["Density"] * r["Sound"] ** 2 * d["Sd"] ** 2 * d["Cms"]


def port(P, p):
    """Helmholtz: c/(2 pi) sqrt(S/(V L)), L with 8/(3 pi) radii for an end in a wall and
    0.6133 for a free one (Beranek and Mellow)."""
    o, b = p["box"]["Port"], p["box"]
    one = math.pi / 4 * o["Diameter"] ** 2 or o["Width"] * o["Height"]
    length = o["Length"] + math.sqrt(one / math.pi) * (o["FlangedEnds"] * 8 / (3 * math.pi) + (2 - o["FlangedEnds"]) * 0.6133)
    volume = b["FrontVolume"] if p["type"] == "band-pass" else b["Volume"]
    yield "tuning of port and empty chamber", p["helmholtz"], P["rules"]["Sound"] / (2 * math.pi) * math.sqrt(o["Count"] * one / (volume * length))


def ratings(P, p):
    """At 14.4 V and no more than the fuse carries; a mere claim at more than 2 ohm a
    channel less, by 1.6 for twice the load. 3 % rise: 1.03 max sqrt(P R) of the best-founded behind 3 % of
    the lowest load, and max sqrt(P/R)."""
    for m in p.get("modes") or []:
        least = min(r["Load"] for r in m["Ratings"])
        most, best = p["amplifier"]["Fuse"] * 14.4 * m["Efficiency"] / m["Outputs"] or math.inf, {}
        for r in m["Ratings"]:
            supply = r["Volts"] or 14.4
            key = r["Load"], r["Basis"]
            if key not in best or (abs(supply - 14.4), -supply) < best[key][0]:
                watts = r["Watts"] * (14.4 / supply) ** 2
                fused = {2: 4, 3: 1}.get(r["Mode"], 2)    # bridged, paralleled: 2 ohm a channel
                cut = most * (min(1, 1.6 ** -math.log2(r["Load"] / fused)) if r["Basis"] == 0 else 1)
                best[key] = (abs(supply - 14.4), -supply), min(watts, cut)
        founded = max(basis for _, basis in best)
        yield "voltage of the ratings", m["Volts"], 1.03 * max(math.sqrt(w * l) for (l, basis), (_, w) in best.items() if basis == founded)
        yield "current of the ratings", m["Amps"], max(math.sqrt(w / l) for (l, _), (_, w) in best.items())
        yield "resistance of the lowest load", m["Ohms"], 0.03 * least


def front(P, p):
    """The level of two speakers with 1 W a side is their sensitivity, with the field of a
    room of constant R = S a/(1 - a), a = 0.4, at 1 m (Kuttruff), less what the high-pass
    takes at 125 Hz. Watts are of use up to the rating, and up to Xmax: music is full from
    31.5 Hz, the speaker in its door has Q = 0.7, a filter 1 + (corner/f)^(2 order)."""
    s, pair, (a, b, c) = p["pair"]["Speaker"], p["pair"], P["rules"]["Cabin"]
    if not (a and b and c):
        return
    room = 2 * (a * b + b * c + c * a) * 0.4 / 0.6
    field = 10 * math.log10(2 * (1 + 4 / room * 2 * math.pi))
    passed = lambda corner, order, f: 1 + (corner / f) ** (2 * order)
    root = math.sqrt(2) * 20e-6 * 10 ** (s["Sensitivity"] / 20) / (2 * math.pi * 101325 / (287.05287 * 293.15) * s["Sd"] * s["Fs"] ** 2)
    farads = {x["sku"]: x.get("capacitance", 0) for x in P["parts"] if x["kind"] == "bass blocker"}
    for sku, behind in pair["Behind"].items():
        farad = farads.get(sku, 0)
        corner, order = (1 / (2 * math.pi * pair["Ohms"] * farad), 1) if farad else (0, 2)
        built = [(f, 2) for f in range(50, 251, 10) if f > corner]
        for filters, corners in zip(behind, ([(corner, order)], [(corner, order)] * bool(sku) + built)):
            if len(filters or []) != len(corners):
                yield f"settings behind {sku or 'no blocker'}", len(filters or []), len(corners)
            for (gain, watts), (corner, order) in zip(filters or [], corners):
                yield f"level of 1 W a side above {corner:.0f} Hz", gain, s["Sensitivity"] + field - 10 * math.log10(passed(corner, order, 125))
                worst, f = 0, 31.5
                while f <= min(2 * max(s["Fs"], corner, 31.5), 20e3):
                    u = f / s["Fs"]
                    worst, f = max(worst, 1 / (((1 - u * u) ** 2 + (u / 0.7) ** 2) * passed(corner, order, f))), f * 2 ** (1 / 12)
                yield f"watts of use above {corner:.0f} Hz", watts, min(s["Power"], 1e9, s["Xmax"] ** 2 / (root * root * worst))


def cable(P, p):
    """rho 2 L/A: copper 1.724e-8 ohm m (IEC 60028), copper-clad aluminium 2.7e-8."""
    ohms, carries, area, run, clad = p["kit"]
    yield "resistance of the cable", ohms, (2.7e-8 if clad else 1.724e-8) * 2 * run / area


def prices(P, p):
    if P["additive"]:
        yield "price with tax and work", p["least"], p["price"] * (1000000 + p["tax"]) + p["work"]


def falling(ways, limit=math.inf):
    """Of (price, watts or amperes) those that ask for less than all cheaper ones."""
    kept = []
    for price, need in sorted(ways):
        if price <= limit and (not kept or need < kept[-1][1]):
            kept.append((price, need))
    return kept


class Fronts:
    """The least that source and front cost beside an amplifier."""

    def __init__(self, P, louder):
        self.P, self.R, self.louder = P, P["rules"], louder
        of = lambda kind: [p for p in P["parts"] if p["kind"] == kind]
        self.sources, self.pairs, self.amps = of("source"), of("front speakers"), of("amplifier")
        self.converters, self.blockers = of("line converter"), of("bass blocker")
        self.fronts()

    def costs(self, p, builtin):
        """(price, watts) of the blockers behind which a pair does, beside a built-in
        high-pass or without. It needs the rule's watts, or any at all; for music those
        that are louder than the claim, or as loud: the build may then cost no more than
        the claim, and what the cap allows beyond that is put on the price."""
        pair, claim = p["pair"], self.P["claim"]
        least = max(1e-300, self.R["FrontWatts"] if pair["Fresh"] else 0)
        levels = [(-math.inf, 0)]
        if self.R["Music"] and claim:
            levels = [(claim["db"] + 0.0005 - 1e-9, 0)]
            if not self.louder:
                levels.append((claim["db"] - 0.0005 - 1e-9, max(0, self.P["limit"] - claim["due"])))
        must = [b for b in self.blockers if b["sku"] in self.P["must"]]
        ways = [] if must else [(0, pair["Behind"][""][builtin])]
        if must or not builtin:
            ways += [(lower(b), pair["Behind"][b["sku"]][builtin]) for b in self.blockers]
        free = not self.R["Music"] and not pair["Fresh"]
        needs = [(price + more, [max(least, 10 ** ((level - gain) / 10)) for gain, most in filters or []
                               if free or max(least, 10 ** ((level - gain) / 10)) <= most])
                 for price, filters in ways for level, more in levels]
        return falling([(price, min(watts)) for price, watts in needs if watts])

    def fronts(self):
        """The least that source and front cost beside each amplifier (rest, spare)."""
        conv = min([lower(c) for c in self.converters] + [BIG])
        def wired(s, speaker):
            if s["source"]["PreOuts"] > 0:
                return lower(s)
            return BIG if s["source"]["Channels"] < 2 else lower(s) + (0 if speaker else conv)
        cheap = [[min([wired(s, k) for s in self.sources if s["source"]["HighPass"] or not h] + [BIG]) for k in range(2)] for h in range(2)]
        self.rest, self.spare, self.ways = [BIG, BIG], {}, [{}, {}]     # prices by current
        for p in self.pairs:
            load = p["pair"]["Load"]
            cost = [self.costs(p, 0), self.costs(p, 1)]
            price = lambda h, watts: min([s for s, w in cost[h] if watts >= w] + [BIG])
            for k in range(2):
                best = min([wired(s, k) + price(s["source"]["HighPass"], s["watts"][load]) for s in self.sources] + [BIG])
                self.ways[k][0.0] = min(self.ways[k].get(0.0, BIG), lower(p) + best)
                for a in self.amps:
                    m, w = a["amplifier"], a["watts"][load]
                    kk = k if m["SpeakerWire"] else 0
                    drive = min(cheap[0][kk] + price(m["HighPass"], w), cheap[1][kk] + price(1, w))
                    best = min(best, lower(a) + drive)
                    self.ways[k][m["Demand"]] = min(self.ways[k].get(m["Demand"], BIG), lower(p) + lower(a) + drive)
                    if m["SpeakerWire"] == bool(k):
                        self.spare[a["sku"]] = min(self.spare.get(a["sku"], BIG), lower(p) + drive)
                self.rest[k] = min(self.rest[k], lower(p) + best)


def claim(P):
    """The claimed parts can be had, and add up to the claimed price, within the cap."""
    c, parts = P["claim"], {p["sku"]: p for p in P["parts"]}
    for sku, n in c["parts"].items():
        if sku not in parts or parts[sku]["most"] < n:
            yield f"{sku}: not to be had so often"
    if P["additive"] and c["due"] != sum(lower(parts[s], n) for s, n in c["parts"].items() if s in parts) or c["due"] > P["limit"]:
        yield "the claim's parts do not add up to its price, or are above the cap"


def check(P):
    found = list(claim(P)) if P["claim"] else []
    for p in P["parts"]:
        rules = [prices] if p["sku"] else []
        rules += [driver] if "driver" in p else []
        rules += [port] if "helmholtz" in p else []
        rules += [ratings] if "amplifier" in p else []
        rules += [cable] if "kit" in p else []
        rules += [front] if "pair" in p else []
        for rule in rules:
            for what, said, worked in rule(P, p):
                if not near(said, worked):
                    found.append(f"{p['sku']} ({p['at']}): {what}: {said:.9g}, worked out {worked:.9g}")
    f, louder = Fronts(P, False), Fronts(P, True)
    ways = [falling([(price, amps) for amps, price in w.items()], P["limit"]) for w in louder.ways]
    for a in f.amps:
        amp, speaker = a["amplifier"], a["amplifier"]["SpeakerWire"]
        rest, spare = min(f.rest[speaker], BIG), f.spare.get(a["sku"], BIG)
        if amp["Rest"] != [rest, min(rest, spare)]:
            found.append(f"{a['sku']} ({a['at']}): source and front beside it: {amp['Rest']}, worked out {rest}")
        worked = [falling(ways[speaker], P["limit"]), falling(ways[speaker] + [(louder.spare.get(a["sku"], BIG), 0.0)], P["limit"])]
        if [[(r["Price"], r["Amps"]) for r in list or []] for list in amp["Louder"]] != worked:
            found.append(f"{a['sku']} ({a['at']}): source and a louder front beside it: {amp['Louder']}, worked out {worked}")
    return found


if __name__ == "__main__":
    with open(os.path.join(HERE, "premises.json")) as file:
        P = json.load(file)
    found = check(P)
    print("\n".join(found) or f"in order: {len(P['parts'])} parts")
    sys.exit(bool(found))
