"""Is the claimed build the loudest? Looks at every block of premises.json beside this
file (a driver, so many times, in so many of one box): confirmed, refuted, not settled.

    python3 check.py            # needs numpy; cards.py checks the premises themselves

The theorem. Let a block have the level L at the frequency f when its cones travel u.
To be louder at f they have to pass u, so what u asks for has to be allowed: travel,
heat, flow through the port, and of the source a current and a voltage. A source that
is weaker in every respect allows no more. So what the best of everything that the
money left over buys does not allow, nothing that it buys does.

What source and front cost beside an amplifier is a premise (cards.py works it out): a
bound, to which two uses of one part may add. A louder block refutes where prices add up,
nothing must be in, and no amplifier is wanted twice that may be there once. Music is the
mean of bands, and no louder than its front. Confirmed says that nothing is louder, to
SAME: which of the blocks that are as loud is the cheapest is left to the audit itself.
"""
import json, os, sys, time
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
SLACK = 0.01    # dB by which a block has to stay below the claim to be settled
SAME = 0.002    # dB within which two levels are the same
COPPER = 0.00393            # growth of its resistance, 1/K
DROP, STIFF = 0.18, 1 / 3   # force factor lost and stiffness gained at Xmax
MODELLED = 1.8              # Xmax, beyond which these laws mean nothing
np.seterr(invalid="raise")  # what is no number would compare as not allowed, and settle a block
STEPS = ["over_the_cap", "no_wiring", "itself", "envelope", "one_by_one", "as_loud", "better", "not_settled"]

def lower(p, n=1):
    """What n pieces cost at least: owned ones first."""
    return n * p["each"] + max(0, n - p["owned"]) * p["least"]

def terminal(supply, ohms, watts):
    """Voltage at the amplifier over the power drawn, through so much cable. Up to its
    reserve the alternator holds its voltage; then it falls, 10 V of it for the reserve
    once more; below the battery's rested voltage that gives as well. Below 9 V
    amplifiers switch off."""
    volts, reserve, rested, battery = supply
    rested = min(rested, volts)
    if reserve < 1e-3:
        reserve, volts = 0.0, rested
    full = reserve * (1 + (volts - rested) / 10)
    both = battery / (1 + battery * reserve / 10)
    falls = [(volts + 10, 10 / reserve, reserve, full)] if reserve else []
    out, left = np.zeros(watts.shape), np.ones(watts.shape, bool)
    for top, inner, start, end in [(volts, 0.0, 0.0, reserve), *falls, (rested + both * full, both, full, np.inf)]:
        slope = inner + ohms
        most = np.minimum(end, min(top / 2, top - 9) / slope)
        now = left & (most >= start) & (watts <= (top - slope * most) * most)
        root = np.sqrt(np.maximum(0, top * top - 4 * slope * watts))
        out = np.where(now, top - slope * np.clip(2 * watts / (top + root), start, np.maximum(start, most)), out)
        left &= ~now
    return out

def columns(boxes):
    """What boxes are, as arrays."""
    names = ["Drivers", "Kind", "Volume", "FrontVolume", "Tuning", "LeakQ", "AbsorptionQ", "FrontAbsorptionQ", "PortQ"]
    port = ["Count", "Diameter", "Width", "Height", "Length", "FlangedEnds"]
    return {name: np.array([(b["box"] | b["box"]["Port"])[name] for b in boxes], float) for name in names + port}

def circuit(d, displacement, box, air):
    """Elements of one driver's share of each box, as arrays (acoustic, SI); boxes in
    which the driver does not leave room are marked."""
    rho, c = air
    k = rho * c * c
    share, kind = 1 / box["Drivers"], box["Kind"]
    vented, band = kind == 1, kind == 2
    ported = kind > 0
    count, dia, w, h, length = (box[name] for name in ("Count", "Diameter", "Width", "Height", "Length"))
    flanged, tuned, q = box["FlangedEnds"], box["Tuning"], box["PortQ"]
    stated = ported & ((dia > 0) | ((w > 0) & (h > 0)))
    single = np.where(dia > 0, np.pi / 4 * dia ** 2, w * h)
    taken = np.where(stated, count * single * length, 0) * share
    volume = box["Volume"] * share - (displacement or 0.1 * d["Size"] ** 3) - np.where(vented, taken, 0)
    front = box["FrontVolume"] * share - np.where(band, taken, 0)
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
        drag = np.where(q > 0, 2 * np.pi * tuning * mass / share / np.where(q > 0, q, 1), drag)
        lost = 1 + (flanged * 0.5 + (2 - flanged)) / 2
        turbulence = 4 * lost * rho / (3 * np.pi * (count * single) ** 2) / share ** 2
    compliance, fcompliance = volume / k, front / k
    ql, qa, qf = box["LeakQ"], box["AbsorptionQ"], box["FrontAbsorptionQ"]
    ql = np.where(ql > 0, ql, np.where(ported, 7.0, 20.0))
    qa = np.where(qa > 0, qa, 50.0)
    cone = np.sqrt((1 / d["Cms"] + d["Sd"] ** 2 / compliance) / d["Mms"])
    at = np.where(ported, 2 * np.pi * tuning, cone)
    leak = at * np.where(band, fcompliance, compliance) / ql
    absorb = 1 / (np.where(band, cone, at) * compliance * qa)
    fabsorb = np.where(band, 1 / (at * np.where(band, fcompliance, 1) * np.where(qf > 0, qf, qa)), 0)
    mass, drag, turbulence = (np.where(ported, x, 0) for x in (mass / share, drag, turbulence))
    return fits, dict(kind=kind, C=compliance, Ra=absorb, Cf=fcompliance, Rf=fabsorb, G=leak, M=mass,
                      R=drag, k=turbulence, S=np.where(ported, count * single * share, 1e9))

def flow_of(pressure, R, k, X):
    """The peak flow y through a port with y |R + k y + j X| = pressure: the square of
    the left side is convex and rises, so Newton's steps come down to it."""
    b = R * R + X * X
    y = np.minimum(pressure / np.sqrt(b), np.sqrt(pressure / k))
    for _ in range(9):
        f = y * y * (b + 2 * R * k * y + k * k * y * y) - pressure ** 2
        step = f / (y * (2 * b + 6 * R * k * y + 4 * k * k * y * y))
        y = y - step
    return y

class Motor:
    def __init__(self, d, heat_time, n, car, rules):
        lim = rules["Limits"]
        self.d, self.n, self.lim, self.car, self.supply = d, n, lim, car, rules["Supply"]
        self.w = 2 * np.pi * car["hz"]
        self.over = min(lim["Overdrive"], MODELLED)
        self.reach = self.w * d["Sd"] * d["Xmax"] * self.over
        share = 1 - np.exp(-lim["Burst"] / heat_time) if lim["Burst"] else 1     # 0: for hours
        share *= 10 ** ((3.0103 - lim["Crest"]) / 10) if lim["Crest"] else 1     # 0: a sine
        self.heat = 180 / d["Power"] * share * d["Coils"] / 2 * d["Re"]

    def needs(self, c, level):
        """For boxes c and a level (one, or of each box at each frequency): which (box,
        frequency) are possible at all, and what one coil then takes: |I|^2, |U|^2,
        Re(U I*), and the power of all coils."""
        d, w = self.d, self.w
        net = 20e-6 * 10 ** (level / 20) * np.sqrt(2) / self.n / np.abs(self.car["transfer"])[None, :]
        most = self.lim["PortSpeed"] * c["S"]
        port, some = most * (1 + c["G"] * (c["R"] + c["k"] * most)), most * c["G"] * c["M"]
        kind, beyond = c["kind"][:, None], port[:, None] + some[:, None] * w
        could = (kind == 2) | (net <= self.reach + np.where(kind == 0, 0, beyond))
        b, f = np.nonzero(could)
        E = {key: value[b] for key, value in c.items()}
        w, net, zc, most = w[f], np.broadcast_to(net, could.shape)[b, f], self.car["back"][f] * self.n, most[b]
        yr = 1 / (E["Ra"] - 1j / (w * E["C"]))      # chamber behind the cone
        # One chamber: net = Yb pb, and across leak and port stands pb plus the car's pressure.
        across = net / yr * (1 + zc * yr)
        X = w * E["M"]
        p = E["kind"] == 1
        y = np.zeros(len(b))
        y[p] = flow_of(np.abs(across[p]), E["R"][p], E["k"][p], X[p])
        # Front chamber: the net flow is that of port and leak, G beside the port.
        g = E["kind"] == 2
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
        b, f, w, u, reaction = (x[ok] for x in (b, f, w, u, reaction))
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
        b, f, w, u, ir, ii, i2, warm, motion = (x[ok] for x in (b, f, w, u, ir, ii, i2, warm, motion))
        zr, zx = 0.0, w * d["Le"]
        if d["L2"] > 0 and d["R2"] > 0:
            x = w * d["L2"] / d["R2"]
            zr, zx = d["R2"] * x * x / (1 + x * x), zx + d["R2"] * x / (1 + x * x)
        r = d["Re"] / (1 - COPPER * warm) + zr
        ur, ui = ir * r - ii * zx, ii * r + ir * zx + w * d["Bl"] * d["Xmax"] * u * motion
        power = ur * ir + ui * ii
        return b, f, i2, ur * ur + ui * ui, power, power * self.n * d["Coils"] / 2

    def loudest(self, c, s, ohms, about):
        """The level that each box does not exceed with a source of its own, not less than
        40 dB below one: of each frequency by halving; then the loudest, of music the mean."""
        low, high = (np.full((len(ohms), len(self.w)), about + d) for d in (-40.0, 400.0))
        for _ in range(28):
            middle, good = (low + high) / 2, np.zeros(low.shape, bool)
            b, f, *need = self.needs(c, middle)
            good[b, f] = allowed(need, s[:, b], self.supply, ohms[b])
            low, high = np.where(good, middle, low), np.where(good, high, middle)
        return high @ self.car["part"] if self.car["music"] else high.max(1)

def allowed(need, s, supply, ohms):
    """Whether a source (E^2, I^2, R, efficiency of one coil) does what is needed."""
    i2, v2, p, watts = need
    volts = terminal(supply, ohms, np.maximum(0, watts) / s[3])
    open2 = v2 + s[2] * (2 * p + s[2] * i2)
    return (i2 <= s[1]) & (open2 <= s[0] * (volts / 14.4) ** 2)

def stands(box, space, boot, n):
    """Whether n boxes stand in a row in the space, and one goes through the boot."""
    within = lambda edges, room: not room or all(a <= b + 0.0005 for a, b in zip(sorted(edges), sorted(room)))
    rows = [[e * n if i == k else e for i, e in enumerate(box or [])] for k in range(3)]
    return not box or any(within(row, space) for row in rows) and within(sorted(box)[:2], boot)

class Question:
    def __init__(self, P):
        self.P, self.R, self.limit = P, P["rules"], P["limit"]
        z = lambda list: np.array([complex(*x) for x in list])
        hz, music = np.array(P["car"]["hz"]), self.R["Music"]
        # The part of each frequency in the mean of the bands of 31.5 to 80 Hz (IEC 61260-1).
        part = sum(np.array([np.interp(10 ** (3 + k / 10), hz, e) for e in np.eye(len(hz))]) for k in range(-15, -10)) / 5
        self.car = {"hz": hz, "transfer": z(P["car"]["Transfer"]), "back": z(P["car"]["Back"]), "music": music, "part": part}
        of = lambda kind: [p for p in P["parts"] if p["kind"] == kind]
        self.subs, self.loaded, self.boxes, self.amps = of("subwoofer"), of("loaded enclosure"), of("enclosure"), of("amplifier")
        self.kits, self.feeds, self.louder = sorted(of("wiring kit"), key=lower), {}, []
        self.cost, self.certain = np.array([lower(k) for k in self.kits]), P["additive"] and not P["must"]
        self.ohms, self.carries = np.array([k["kit"][:2] for k in self.kits] or [(0, 0)]).T
        self.best = np.minimum.accumulate(self.ohms)

    def wirings(self, n, coils, load):
        """Every way to feed n drivers, by price: columns of the price with source and
        front, the current of all amplifiers, the source of one coil (E^2, I^2, R,
        efficiency), peak, and which of the ways to a louder front; and the best sources up
        to each. s coils are in series, t strings of them on an output."""
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
                            spare = a["amplifier"]["Stereo"] - g * m["Takes"] >= 2
                            all.append((lower(a, k) + a["amplifier"]["Rest"][spare], k * a["amplifier"]["Demand"], 2 * (m["Volts"] / s) ** 2,
                                        2 * (m["Amps"] / t) ** 2, m["Ohms"] * t / s, m["Efficiency"], len(self.louder)))
                            self.louder.append((lower(a, k), a["amplifier"]["Louder"][spare] or [], a["most"] > k and not a["owned"]))
        all = np.array(sorted(all)).T if all else np.zeros((7, 0))
        most = np.maximum.accumulate(all[2:6], axis=1)
        most[2] = np.minimum.accumulate(all[4])
        self.feeds[n, coils, load] = all, most
        return all, most

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

def check(P):
    Q = Question(P)
    R, claim, counts, left, worst = Q.R, P["claim"], dict.fromkeys(STEPS, 0), [], []
    level = claim["db"] + R["Lift"] if claim else -np.inf
    musts = {s for s in P["must"] if any(p["sku"] == s for p in Q.subs + Q.boxes + Q.loaded)}
    goes = lambda need, has: (need == 0) | (has == 0) | (need - has <= 0.002 + 1e-9)
    for m in range(1, R["Boxes"] + 1):
        fit = lambda all: [b for b in all if m <= b["most"] and stands(b["outside"], R["Space"], R["Boot"], m)]
        boxes = fit(Q.boxes)
        table, sku, price = columns(boxes), np.array([b["sku"] for b in boxes]), np.array([lower(b, m) for b in boxes])
        size, cut, deep = (np.array([b.get(n, 0.0) for b in boxes]) for n in ("size", "cutout", "depth"))
        for p in Q.subs + fit(Q.loaded):
            if "box" in p:
                block(Q, p, m, m * p["box"]["Drivers"], columns([p]), np.array([""]), np.zeros(1, np.int64), level, musts, counts, worst)
                continue
            suits = (np.abs(size - p["size"]) <= 0.003) & goes(p.get("cutout", 0), cut) & goes(p.get("depth", 0), deep)
            for h in np.unique(table["Drivers"][suits]).astype(int):
                at = np.nonzero(suits & (table["Drivers"] == h))[0]
                some = {name: value[at] for name, value in table.items()}
                block(Q, p, m, int(m * h), some, sku[at], price[at], level, musts, counts, worst)
    better = [w for w in worst if w[0] == "better"]
    if not claim and worst:
        left.append("blocks that money and wirings allow: whether a build of them is complete is not checked here")
    if not better and claim and not any(set(w[1:3]) <= {"", *claim["parts"]} for w in worst):
        left.append("the claimed build was not met at its level")
    if claim and not better and any(w[0] == "not_settled" for w in worst):
        left.append("louder blocks, but deals, trips, parts that must be in or an amplifier wanted twice decide whether they can be had")
    return ("not settled" if left else "refuted" if better else "confirmed"), sum(counts.values()), counts, worst, left

def block(Q, p, m, n, table, sku, prices, level, musts, counts, worst):
    """Settles the blocks of one driver, n times, in m of each of some boxes."""
    d, loaded = p["driver"], "box" in p
    if n > Q.R["Drivers"] or not loaded and n > p["most"]:
        return
    fits, c = circuit(d, 0 if loaded else p.get("displacement", 0), table, (Q.R["Density"], Q.R["Sound"]))
    feeds, most = Q.wirings(n, d["Coils"], d["CoilLoad"])
    if not Q.kits or not feeds.size:
        counts[STEPS[0 if not Q.kits else 1]] += int(fits.sum())
        return
    sums = Q.limit - prices - lower(p, m if loaded else n)
    bought = np.searchsorted(feeds[0], sums - Q.cost[0], "right")
    ok = fits & (bought > 0) & np.array([musts <= {p["sku"], b} for b in sku], bool)
    counts["over_the_cap"] += int((fits & ~ok).sum())
    if not ok.any() or level == -np.inf:
        counts["not_settled"] += int(ok.sum())
        return worst.extend(("not settled", p["sku"]) for k in ok if k)
    bought, sums, sku, c = bought[ok], sums[ok], sku[ok], {key: value[ok] for key, value in c.items()}
    motor = Motor(d, p["heat_time"], n, Q.car, Q.R)
    b, _, *need = motor.needs(c, level - SLACK)
    met = np.unique(b)
    counts["itself"] += len(sku) - len(met)
    # The envelope of what each block has money for, on the best conductor.
    env, ohms = most[:, bought - 1], Q.best[np.maximum(1, np.searchsorted(Q.cost, sums - feeds[0, 0], "right")) - 1]
    fine = allowed(need, env[:, b], Q.R["Supply"], ohms[b])
    b, need = b[fine], [x[fine] for x in need]
    some = np.unique(b)
    if Q.car["music"] and some.size:
        some = some[motor.loudest({key: value[some] for key, value in c.items()}, env[:, some], ohms[some], level) >= level - SLACK]
    counts["envelope"] += len(met) - len(some)
    for i in some:              # then each wiring by itself, with the best kit for it
        reach = lambda w, ohms: motor.loudest({key: np.repeat(value[i], len(w)) for key, value in c.items()}, feeds[2:6, w], ohms, level)
        laid = lambda price, amps: np.where((price + Q.cost <= sums[i]) & (amps <= Q.carries), Q.ohms, np.inf).min(-1)
        own = laid(feeds[0][:, None], feeds[1][:, None])
        w = np.nonzero(own < np.inf)[0]
        w = w[allowed([x[b == i] for x in need], feeds[2:6, w, None], Q.R["Supply"], own[w, None]).any(1)]
        reached, step = reach(w, own[w]), "one_by_one"
        if (reached >= level - SAME).any():
            step, both = "as_loud", []
            for k in w[reached > level + SAME]:     # and with a front that is louder as well
                price, rests, plenty = Q.louder[int(feeds[6, k])]
                both += [(k, laid(price + r["Price"], feeds[1, k] + r["Amps"]), plenty or not r["Amps"]) for r in rests]
            w, own, sure = np.array([x for x in both if x[1] < np.inf]).reshape(-1, 3).T
            if (louder := reach(w.astype(int), own) > level + SAME).any():
                step = "better" if Q.certain and sure[louder].any() else "not_settled"
            worst.append((step, p["sku"], sku[i], m))
        counts[step] += 1

if __name__ == "__main__":
    began = time.process_time()
    with open(os.path.join(HERE, "premises.json")) as file:
        verdict, blocks, counts, worst, left = check(json.load(file))
    print(f"{verdict}: {blocks} blocks fit")
    for step in STEPS:
        print(f"  {step:14} {counts[step]}")
    print("\n".join([" ".join(map(str, w)) for w in worst[:20]] + left))
    print(f"{time.process_time() - began:.0f} s of processor time", file=sys.stderr)
    sys.exit(verdict != "confirmed")
