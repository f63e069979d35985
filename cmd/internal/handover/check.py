"""Is the claimed build the loudest? Looks at every block of the premises beside this
file (a driver, so many times, in so many of one box) and says confirmed, refuted or
not settled.

    python3 check.py            # needs numpy; reads premises.json

The theorem. Let a block have the level L at the frequency f when its cones travel u.
To be louder at f they have to pass u, so what u asks for has to be allowed: travel,
heat, flow through the port, and of the source a current and a voltage. A source that
is weaker in every respect allows no more. So what the best of everything that the
money left over buys does not allow, nothing that it buys does.

Each premise can be checked by itself: "at" says where the card of a part stands,
"origin" what of it was not stated. The formulas are below, each with its name.
"""
import json, os, sys, time
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
SLACK = 0.01    # dB by which a block has to stay below the claim to be settled
SAME = 0.002    # dB within which two levels are the same
BIG = 1 << 60
COPPER = 0.00393            # growth of its resistance, 1/K
DROP, STIFF = 0.18, 1 / 3   # force factor lost and stiffness gained at Xmax
MODELLED = 1.8              # Xmax, beyond which these laws mean nothing
STEPS = ["over_the_cap", "no_wiring", "itself", "envelope", "one_by_one", "as_loud", "better", "not_settled"]


def lower(p, n=1):
    """What n pieces cost at least: owned ones first."""
    return 0 if p is None else n * p["each"] + max(0, n - p["owned"]) * p["least"]


# ---- the supply: alternator, battery, cable --------------------------------------

class Line:
    """Voltage at the amplifier over the power drawn. Up to its reserve the alternator
    holds its voltage; then it falls, 10 V of it for the reserve once more; below the
    battery's rested voltage that gives as well. Below 9 V amplifiers switch off."""

    def __init__(self, supply, cable):
        volts, reserve, rested, battery = supply
        rested = min(rested, volts)
        if reserve < 1e-3:
            reserve, volts = 0.0, rested
        full = reserve * (1 + (volts - rested) / 10)
        both = battery / (1 + battery * reserve / 10)
        self.parts = [(volts, cable, 0.0, reserve)]
        if reserve > 0:
            self.parts.append((volts + 10, 10 / reserve + cable, reserve, full))
        self.parts.append((rested + both * full, both + cable, full, np.inf))

    def volts(self, watts):
        out, left = np.zeros_like(watts), np.ones(watts.shape, bool)
        for top, slope, start, end in self.parts:
            if slope > 0:
                end = min(end, min(top / 2, top - 9) / slope)
            elif top < 9:
                break
            if end < start:
                continue
            now = left & (watts <= (top - slope * end) * end)
            root = np.sqrt(np.maximum(0, top * top - 4 * slope * watts[now]))
            out[now] = top - slope * np.clip(2 * watts[now] / (top + root), start, end)
            left &= ~now
        return out


# ---- the box: its circuit from the card ---------------------------------------------

def circuit(d, displacement, boxes, air):
    """Elements of one driver's share of each box, as arrays (acoustic, SI); boxes in
    which the driver does not leave room are marked."""
    get = lambda f: np.array([f(b["box"]) for b in boxes], float)
    rho, c = air
    k = rho * c * c
    share = 1 / get(lambda b: b["Drivers"])
    kind = get(lambda b: b["Kind"])
    vented, band = kind == 1, kind == 2
    ported = kind > 0
    count, dia = get(lambda b: b["Port"]["Count"]), get(lambda b: b["Port"]["Diameter"])
    w, h, length = (get(lambda b, n=n: b["Port"][n]) for n in ("Width", "Height", "Length"))
    flanged, tuned = get(lambda b: b["Port"]["FlangedEnds"]), get(lambda b: b["Tuning"])
    stated = ported & ((dia > 0) | ((w > 0) & (h > 0)))
    single = np.where(dia > 0, np.pi / 4 * dia ** 2, w * h)
    taken = np.where(stated, count * single * length, 0) * share
    volume = get(lambda b: b["Volume"]) * share - (displacement or 0.1 * d["Size"] ** 3) - np.where(vented, taken, 0)
    front = get(lambda b: b["FrontVolume"]) * share - np.where(band, taken, 0)
    sweep = d["Sd"] * d["Xmax"]
    fits = (volume > sweep) & (~band | (front > sweep))
    volume, front = np.where(fits, volume, 1), np.where(fits, front, 1)
    chamber = np.where(band, front, volume)
    # A port of which only the tuning is stated: 12 square inches a cubic foot, one
    # round one, free inside.
    area = 12 * 0.0254 ** 2 / 0.3048 ** 3 * chamber / share
    count, flanged = np.where(stated, count, 1), np.where(stated, flanged, 1)
    single = np.where(stated, single, area)
    radius = np.sqrt(single / np.pi)
    end = radius * (flanged * 8 / (3 * np.pi) + (2 - flanged) * 0.6133)
    with np.errstate(all="ignore"):
        natural = single / ((chamber / share) * (2 * np.pi * tuned / c) ** 2) - end
        length = np.where(stated, length, np.maximum(0, natural))
        mass = np.where(stated, rho * (length + end) / (count * single), 1 / ((2 * np.pi * tuned) ** 2 * chamber / share / k))
        tuning = 1 / (2 * np.pi * np.sqrt(mass * chamber / share / k))
        rim = np.where(stated & (dia <= 0), 2 * (w + h), 2 * np.pi * radius)
        drag = np.sqrt(2 * np.pi * tuning * rho * 1.81e-5 / 2) * rim * (length + end) / single ** 2 / count / share
        q = get(lambda b: b["PortQ"])
        drag = np.where(q > 0, 2 * np.pi * tuning * mass / share / np.where(q > 0, q, 1), drag)
        lost = 1 + (flanged * 0.5 + (2 - flanged)) / 2
        turbulence = 4 * lost * rho / (3 * np.pi * (count * single) ** 2) / share ** 2
    compliance, fcompliance = volume / k, front / k
    ql, qa, qf = (get(lambda b, n=n: b[n]) for n in ("LeakQ", "AbsorptionQ", "FrontAbsorptionQ"))
    ql = np.where(ql > 0, ql, np.where(ported, 7.0, 20.0))
    qa = np.where(qa > 0, qa, 50.0)
    cone = np.sqrt((1 / d["Cms"] + d["Sd"] ** 2 / compliance) / d["Mms"])
    at = np.where(ported, 2 * np.pi * tuning, cone)
    leak = at * np.where(band, fcompliance, compliance) / ql
    absorb = 1 / (np.where(band, cone, at) * compliance * qa)
    fabsorb = np.where(band, 1 / (at * np.where(band, fcompliance, 1) * np.where(qf > 0, qf, qa)), 0)
    return fits, dict(kind=kind, C=compliance, Ra=absorb, Cf=fcompliance, Rf=fabsorb, G=leak, M=mass / share,
                      R=drag, k=turbulence, S=np.where(ported, count * single * share, np.inf))


# ---- what a level asks for ---------------------------------------------------------------

def flow_of(pressure, R, k, X):
    """The peak flow y through a port with y |R + k y + j X| = pressure: the square of
    the left side is convex and rises, so Newton's steps come down to it."""
    b = R * R + X * X
    y = np.minimum(pressure / np.sqrt(b), np.sqrt(pressure / k))
    for _ in range(25):
        f = y * y * (b + 2 * R * k * y + k * k * y * y) - pressure ** 2
        step = f / (y * (2 * b + 6 * R * k * y + 4 * k * k * y * y))
        y = y - step
        if np.all(np.abs(step) <= 1e-12 * y):
            break
    return y


class Motor:
    def __init__(self, d, heat_time, n, car, lim):
        self.d, self.n, self.lim, self.car = d, n, lim, car
        self.w = 2 * np.pi * car["hz"]
        self.over = min(lim["Overdrive"], MODELLED)
        self.reach = self.w * d["Sd"] * d["Xmax"] * self.over
        share = 1 - np.exp(-lim["Burst"] / heat_time)
        self.heat = 180 / d["Power"] * share * d["Coils"] / 2 * d["Re"]

    def needs(self, c, level):
        """For boxes c and a level: which (box, frequency) are possible at all, and what
        one coil then takes: |I|^2, |U|^2, Re(U I*), and the power of all coils."""
        d, w = self.d, self.w
        net = 20e-6 * 10 ** (level / 20) * np.sqrt(2) / self.n / np.abs(self.car["transfer"])
        most = self.lim["PortSpeed"] * c["S"]
        with np.errstate(invalid="ignore"):
            port = most * (1 + c["G"] * (c["R"] + c["k"] * most))
            some = most * c["G"] * c["M"]
        sealed = (c["kind"] == 0)[:, None]
        could = np.where(sealed, net <= self.reach, net <= self.reach + port[:, None] + some[:, None] * w)
        could |= (c["kind"] == 2)[:, None]
        b, f = np.nonzero(could)
        E = {key: value[b] for key, value in c.items()}
        w, net, zc, most = w[f], net[f], self.car["back"][f] * self.n, most[b]
        yr = 1 / (E["Ra"] - 1j / (w * E["C"]))      # chamber behind the cone
        band = E["kind"] == 2
        # One chamber: what leaves it is what it takes in, so net = Yb pb, and across
        # the leak and the port stands pb plus the pressure of the car.
        across = net / yr * (1 + zc * yr)
        X = w * E["M"]
        p = E["kind"] == 1
        y = np.zeros(len(b))
        y[p] = flow_of(np.abs(across[p]), E["R"][p], E["k"][p], X[p])
        # Front chamber: the net flow is that of port and leak, G beside the port.
        g = band
        y[g] = flow_of(net[g], 1 + E["G"][g] * E["R"][g], E["G"][g] * E["k"][g], E["G"][g] * X[g])
        zp = E["R"] + E["k"] * y + 1j * X
        cone = net + across * E["G"]
        cone[p] += across[p] / zp[p]
        reaction = across / cone
        if g.any():
            u = y[g] * (1 + E["G"][g] * zp[g])      # the net flow, with the port's phase
            pf = y[g] * zp[g] + zc[g] * u
            cone[g] = u + pf / (E["Rf"][g] - 1j / (w[g] * E["Cf"][g]))
            reaction[g] = 1 / yr[g] + pf / cone[g]
        unit = w * d["Sd"] * d["Xmax"]
        u = np.abs(cone) / unit
        ok = (u <= self.over) & ((E["kind"] == 0) | (y <= most))
        b, f, w, u, reaction = b[ok], f[ok], w[ok], u[ok], reaction[ok]
        # Force on the cone over the force factor, by first harmonics; then the coil.
        force = d["Xmax"] / (d["Coils"] * d["Bl"])
        acts = w * d["Sd"] ** 2 * force
        ir = u * (force * (1 / d["Cms"] - w * w * d["Mms"]) - acts * reaction.imag + force / d["Cms"] * STIFF * 3 / 4 * u * u) / (1 - DROP * 3 / 4 * u * u)
        motion = 1 - DROP / 4 * u * u
        ii = u * (force * w * d["Rms"] * (1 + (1 + d["MoreLoss"]) * u) + acts * reaction.real) / motion
        i2 = ir * ir + ii * ii
        warm = self.heat * i2
        rise = self.lim["CoilRise"]
        ok = warm <= rise / (1 + COPPER * rise)
        b, w, u, ir, ii, i2, warm, motion = b[ok], w[ok], u[ok], ir[ok], ii[ok], i2[ok], warm[ok], motion[ok]
        zr, zx = 0.0, w * d["Le"]
        if d["L2"] > 0 and d["R2"] > 0:
            x = w * d["L2"] / d["R2"]
            zr, zx = d["R2"] * x * x / (1 + x * x), zx + d["R2"] * x / (1 + x * x)
        r = d["Re"] / (1 - COPPER * warm) + zr
        ur, ui = ir * r - ii * zx, ii * r + ir * zx + w * d["Bl"] * d["Xmax"] * u * motion
        power = ur * ir + ui * ii
        return b, i2, ur * ur + ui * ui, power, power * self.n * d["Coils"] / 2


def allowed(need, s, line):
    """Whether a source (E^2, I^2, R, efficiency of one coil) does what is needed."""
    i2, v2, p, watts = need
    volts = line.volts(np.maximum(0, watts) / s[3])
    open2 = v2 + s[2] * (2 * p + s[2] * i2)
    return (i2 <= s[1]) & (open2 <= s[0] * (volts / 14.4) ** 2)


# ---- parts, wirings, fronts ----------------------------------------------------------------

def fits_row(box, space, n):
    tries = [sorted(e * n if i == k else e for i, e in enumerate(box)) for k in range(3)]
    return not space or not box or any(all(a <= b + 0.0005 for a, b in zip(t, sorted(space))) for t in tries)


def through(box, boot):
    return not boot or not box or all(a <= b + 0.0005 for a, b in zip(sorted(box)[:2], sorted(boot)))


class Question:
    def __init__(self, P):
        self.P, self.R, self.limit = P, P["Rules"] if "Rules" in P else P["rules"], P["limit"]
        self.air = self.R["Density"], self.R["Sound"]
        z = lambda list: np.array([complex(*x) for x in list])
        self.car = {"hz": np.array(P["car"]["hz"]), "transfer": z(P["car"]["Transfer"]), "back": z(P["car"]["Back"])}
        of = lambda kind: [p for p in P["parts"] if p["kind"] == kind]
        self.subs, self.loaded, self.boxes, self.amps = of("subwoofer"), of("loaded enclosure"), of("enclosure"), of("amplifier")
        self.kits, self.sources, self.pairs = of("wiring kit"), of("source"), of("front speakers")
        self.converters, self.blockers = of("line converter"), of("bass blocker")
        self.lines, self.best = [], []
        for k in self.kits:
            ohms = min([k["kit"][0]] + self.best[-1:])
            self.best.append(ohms)
            self.lines.append(Line(self.R["Supply"], ohms))
        self.fronts()
        self.feeds = {}

    def costs(self, p, blocked):
        """(price, watts) of the blockers behind which a pair does, with a built-in
        high-pass or without: it needs the rule's watts, or any at all."""
        need = self.R["FrontWatts"] if p["pair"]["Fresh"] else 1e-300
        plain = p["pair"]["BuiltIn"] if blocked else p["pair"]["Watts"]
        must = [b for b in self.blockers if b["sku"] in self.P["must"]]
        ways = [] if must else [(0, plain)]
        if must or not blocked:
            ways += [(lower(b), p["pair"]["Blocked"][b["sku"]][blocked]) for b in self.blockers]
        return [(sum, need) for sum, most in ways if most >= need or not p["pair"]["Fresh"]][:1]

    def fronts(self):
        """The least that source and front cost beside each amplifier (rest, spare)."""
        conv = lower(self.converters[0]) if self.converters else BIG
        def wired(s, speaker):
            if s["source"]["PreOuts"] > 0:
                return lower(s)
            return BIG if s["source"]["Channels"] < 2 else lower(s) + (0 if speaker else conv)
        cheap = [[min([wired(s, k) for s in self.sources if s["source"]["HighPass"] or not h] + [BIG]) for k in range(2)] for h in range(2)]
        self.rest, self.spare = [BIG, BIG], {}
        for p in self.pairs:
            load = p["pair"]["Load"]
            cost = [self.costs(p, 0), self.costs(p, 1)]
            price = lambda h, watts: min([s for s, w in cost[h] if watts >= w] + [BIG])
            for k in range(2):
                best = min([wired(s, k) + price(s["source"]["HighPass"], s["watts"][load]) for s in self.sources] + [BIG])
                for a in self.amps:
                    m, w = a["amplifier"], a["watts"][load]
                    kk = k if m["SpeakerWire"] else 0
                    drive = min(cheap[0][kk] + price(m["HighPass"], w), cheap[1][kk] + price(1, w))
                    best = min(best, lower(a) + drive)
                    if m["SpeakerWire"] == bool(k):
                        self.spare[a["sku"]] = min(self.spare.get(a["sku"], BIG), lower(p) + drive)
                self.rest[k] = min(self.rest[k], lower(p) + best)

    def wirings(self, n, coils, load):
        """Every way to feed n drivers: prices with the rest, rising, and sources of one
        coil (E^2, I^2, R, efficiency), peak values. s coils in series and t strings of
        them on an output; all that divide are possible."""
        if (n, coils, load) in self.feeds:
            return self.feeds[n, coils, load]
        all = []
        for a in self.amps:
            for k in range(1, min(self.R["Amplifiers"], a["most"]) + 1):
                for m in a.get("modes") or [] if n % k == 0 else []:
                    for g in range(1, m["Outputs"] + 1):
                        for s, t in shapes(n // k, coils, g):
                            if load * s / t < m["Least"] * 0.99:
                                continue
                            rest = self.rest[a["amplifier"]["SpeakerWire"]]
                            if a["amplifier"]["Stereo"] - g * m["Takes"] >= 2:
                                rest = min(rest, self.spare.get(a["sku"], 0))
                            all.append((lower(a, k) + rest, 2 * (m["Volts"] / s) ** 2, 2 * (m["Amps"] / t) ** 2,
                                        m["Ohms"] * t / s, m["Efficiency"], k * a["amplifier"]["Demand"]))
        all = np.array(sorted(all)) if all else np.zeros((0, 6))
        peak = np.maximum.accumulate(all, axis=0)
        env = np.stack([peak[:, 1], peak[:, 2], np.minimum.accumulate(all[:, 3]), peak[:, 4]], 1) if len(all) else all
        self.feeds[n, coils, load] = all, env
        return all, env


def shapes(drivers, coils, outputs):
    """(series, parallel) of the coils on each output: each driver's coils over as many
    outputs as divide them, then the same among the drivers."""
    found = set()
    div = lambda n: [d for d in range(1, n + 1) if n % d == 0]
    for split in div(coils):
        if outputs % split == 0 and drivers % (outputs // split) == 0:
            inner, units = coils // split, drivers // (outputs // split)
            found |= {(a * b, inner // a * (units // b)) for a in div(inner) for b in div(units)}
    return sorted(found)


# ---- every block --------------------------------------------------------------------------------

def check(P):
    Q = Question(P)
    R, claim, counts = Q.R, P["claim"], dict.fromkeys(STEPS, 0)
    level = claim["db"] if claim else -np.inf
    left = [] if not P["music"] else ["music is not checked here"]
    worst = []      # blocks as loud, and louder
    musts = {s for s in P["must"] if any(p["sku"] == s for p in Q.subs + Q.boxes + Q.loaded)}
    for m in [] if left else range(1, R["Boxes"] + 1):
        stand = lambda b: fits_row(b["outside"], R["Space"], m) and through(b["outside"], R["Boot"])
        boxes = [b for b in Q.boxes if stand(b) and m <= b["most"]]
        size = np.array([b["size"] for b in boxes])
        holes = np.array([b["box"]["Drivers"] for b in boxes])
        cut, deep = (np.array([b.get(n, 0.0) for b in boxes]) for n in ("cutout", "depth"))
        price = np.array([lower(b, m) for b in boxes])
        for p in Q.subs + [p for p in Q.loaded if stand(p) and m <= p["most"]]:
            if "box" in p:
                groups = [(m * p["box"]["Drivers"], [p], np.zeros(1, np.int64), lower(p, m))]
            else:
                goes = lambda need, has: (need == 0) | (has == 0) | (need - has <= 0.002 + 1e-9)
                fit = (np.abs(size - p["size"]) <= 0.003) & goes(p.get("cutout", 0), cut) & goes(p.get("depth", 0), deep)
                groups = []
                for h in sorted(set(holes[fit])):
                    at = np.nonzero(fit & (holes == h))[0]
                    if m * h <= min(R["Drivers"], p["most"]):
                        groups.append((int(m * h), [boxes[i] for i in at], price[at], lower(p, int(m * h))))
            for n, some, prices, own in groups:
                if n <= R["Drivers"]:
                    block(Q, p, m, n, some, prices + own, level, musts, counts, worst)
    better = [w for w in worst if w[0] > level + SAME]
    blocks = sum(counts.values())
    if not better and claim and not any(w[1:3] == names(claim, Q) for w in worst):
        left.append("the claimed build was not met at its level")
    if better and not P["additive"]:
        left.append("prices that do not add up (deals, trips): what is louder may be over the cap")
    return ("not settled" if left else "refuted" if better else "confirmed"), blocks, counts, worst, left


def names(claim, Q):
    skus = set(claim["parts"])
    pick = lambda list: next((p["sku"] for p in list if p["sku"] in skus), "")
    return pick(Q.subs + Q.loaded), pick(Q.boxes)


def block(Q, p, m, n, boxes, prices, level, musts, counts, worst):
    """Settles the blocks of one driver, n times, in m of each of some boxes."""
    d = p["driver"]
    fits, c = circuit(d, 0 if "box" in p else p.get("displacement", 0), boxes, Q.air)
    boxes, prices = [b for b, ok in zip(boxes, fits) if ok], prices[fits]
    c = {key: value[fits] for key, value in c.items()}
    has = np.array([all(s in (p["sku"], b["sku"]) for s in musts) for b in boxes], bool)
    sums = Q.limit - prices
    feeds, env = Q.wirings(n, d["Coils"], d["CoilLoad"])
    if not Q.kits or not len(feeds):
        counts[STEPS[0 if not Q.kits else 1]] += len(boxes)
        return
    bought = np.searchsorted(feeds[:, 0], sums - lower(Q.kits[0]), "right")
    ok = has & (bought > 0)
    counts["over_the_cap"] += int((~ok).sum())
    if not ok.any():
        return
    boxes = [b for b, k in zip(boxes, ok) if k]
    bought, sums, c = bought[ok], sums[ok], {key: value[ok] for key, value in c.items()}
    motor = Motor(d, p["heat_time"], n, Q.car, Q.R["Limits"])
    b, *need = motor.needs(c, level - SLACK)
    counts["itself"] += len(boxes) - len(set(b))
    cost = np.array([lower(k) for k in Q.kits])
    kits = np.maximum(1, np.searchsorted(cost, sums - feeds[0, 0], "right"))
    for i in sorted(set(b)):
        mine = [x[b == i] for x in need]
        line = Q.lines[kits[i] - 1]
        mine = [x[allowed(mine, env[bought[i] - 1], line)] for x in mine]
        if not len(mine[0]):
            counts["envelope"] += 1
            continue
        able = [w for w in feeds[:bought[i]] if allowed(mine, w[1:5], line).any()]
        one = {key: value[i:i + 1] for key, value in c.items()}
        loud = max([loudest(motor, one, w, k, Q, level) for w in able for k in Q.kits
                    if w[0] + lower(k) <= sums[i] and w[5] <= k["kit"][1]], default=-np.inf)
        if loud < level - SAME:
            counts["one_by_one"] += 1
            continue
        counts["better" if loud > level + SAME else "as_loud"] += 1
        worst.append((loud, p["sku"], "" if "box" in p else boxes[i]["sku"], m))


def loudest(motor, c, w, k, Q, level):
    """The level of one block with one wiring and kit, by halving; within 1 dB."""
    line = Line(Q.R["Supply"], k["kit"][0])
    low, high = level - 2 * SLACK, level + 1
    for _ in range(14):
        middle = (low + high) / 2
        b, *need = motor.needs(c, middle)
        low, high = (middle, high) if allowed(need, w[1:5], line).any() else (low, middle)
    return low


if __name__ == "__main__":
    began = time.process_time()
    with open(os.path.join(HERE, "premises.json")) as file:
        verdict, blocks, counts, worst, left = check(json.load(file))
    print(f"{verdict}: {blocks} blocks fit")
    for step in STEPS:
        print(f"  {step:14} {counts[step]}")
    for loud, *who in sorted(worst, reverse=True):
        print(f"  {loud:.3f} dB: {' '.join(map(str, who))}")
    for why in left:
        print("  " + why)
    print(f"{time.process_time() - began:.0f} s of processor time", file=sys.stderr)
    sys.exit(verdict != "confirmed")
