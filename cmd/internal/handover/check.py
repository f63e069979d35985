"""Is the claimed build the loudest? Looks at every block of premises.json beside this
file (a driver, so many times, in so many of one box): confirmed, refuted, not settled.

    python3 check.py            # needs numpy; cards.py checks the premises themselves

The theorem. Let a block have the level L at the frequency f when its cones travel u.
To be louder at f they have to pass u, so what u asks for has to be allowed: travel,
heat, flow through the port, and of the source a current and a voltage. A source that
is weaker in every respect allows no more. So what the best of everything that the
money left over buys does not allow, nothing that it buys does.

What source and front cost beside an amplifier is a premise (cards.py works it out):
a bound, to which two uses of one part, or a kit's current with an amplifier of the
front's own, may add. A louder block refutes where prices add up and nothing must be in.
Confirmed says that nothing is louder, to SAME: which of the blocks that are as loud is
the cheapest is left to the audit itself.
"""
import json, os, sys, time
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
SLACK = 0.01    # dB by which a block has to stay below the claim to be settled
SAME = 0.002    # dB within which two levels are the same
COPPER = 0.00393            # growth of its resistance, 1/K
DROP, STIFF = 0.18, 1 / 3   # force factor lost and stiffness gained at Xmax
MODELLED = 1.8              # Xmax, beyond which these laws mean nothing
STEPS = ["over_the_cap", "no_wiring", "itself", "envelope", "one_by_one", "as_loud", "better", "not_settled"]

def lower(p, n=1):
    """What n pieces cost at least: owned ones first."""
    return n * p["each"] + max(0, n - p["owned"]) * p["least"]

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
    mass, drag, turbulence = (np.where(ported, x, 0) for x in (mass / share, drag, turbulence))
    return fits, dict(kind=kind, C=compliance, Ra=absorb, Cf=fcompliance, Rf=fabsorb, G=leak, M=mass,
                      R=drag, k=turbulence, S=np.where(ported, count * single * share, np.inf))

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

def fits_row(box, space, n):
    tries = [sorted(e * n if i == k else e for i, e in enumerate(box or [])) for k in range(3)]
    return not space or not box or any(all(a <= b + 0.0005 for a, b in zip(t, sorted(space))) for t in tries)

def through(box, boot):
    return not boot or not box or all(a <= b + 0.0005 for a, b in zip(sorted(box)[:2], sorted(boot)))

class Question:
    def __init__(self, P):
        self.P, self.R, self.limit = P, P["rules"], P["limit"]
        self.air = self.R["Density"], self.R["Sound"]
        z = lambda list: np.array([complex(*x) for x in list])
        self.car = {"hz": np.array(P["car"]["hz"]), "transfer": z(P["car"]["Transfer"]), "back": z(P["car"]["Back"])}
        of = lambda kind: [p for p in P["parts"] if p["kind"] == kind]
        self.subs, self.loaded, self.boxes, self.amps = of("subwoofer"), of("loaded enclosure"), of("enclosure"), of("amplifier")
        self.kits, self.feeds = of("wiring kit"), {}
        best = np.minimum.accumulate([k["kit"][0] for k in self.kits] or [0])
        self.lines = [Line(self.R["Supply"], ohms) for ohms in best]

    def wirings(self, n, coils, load):
        """Every way to feed n drivers: prices with source and front, rising, and sources of
        one coil (E^2, I^2, R, efficiency), peak; s coils in series, t strings on an output."""
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
                            all.append((lower(a, k) + a["amplifier"]["Rest"][spare], 2 * (m["Volts"] / s) ** 2, 2 * (m["Amps"] / t) ** 2,
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

def check(P):
    Q = Question(P)
    R, claim, counts, left, worst = Q.R, P["claim"], dict.fromkeys(STEPS, 0), [], []
    level = claim["db"] if claim else -np.inf
    musts = {s for s in P["must"] if any(p["sku"] == s for p in Q.subs + Q.boxes + Q.loaded)}
    for m in range(1, R["Boxes"] + 1):
        stand = lambda b: fits_row(b["outside"], R["Space"], m) and through(b["outside"], R["Boot"])
        boxes = [b for b in Q.boxes if stand(b) and m <= b["most"]]
        size, holes = np.array([b["size"] for b in boxes]), np.array([b["box"]["Drivers"] for b in boxes])
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
    better = [w for w in worst if w[0] == "better"]
    if not claim and worst:
        left.append("blocks that money and wirings allow: whether a build of them is complete is not checked here")
    if not better and claim and not any(set(w[1:3]) <= {"", *claim["parts"]} for w in worst):
        left.append("the claimed build was not met at its level")
    if better and not (P["additive"] and not P["must"]):
        left.append("louder blocks, but deals, trips or parts that must be in decide whether they can be had")
    return ("not settled" if left else "refuted" if better else "confirmed"), sum(counts.values()), counts, worst, left

def block(Q, p, m, n, boxes, prices, level, musts, counts, worst):
    """Settles the blocks of one driver, n times, in m of each of some boxes."""
    d = p["driver"]
    fits, c = circuit(d, 0 if "box" in p else p.get("displacement", 0), boxes, Q.air)
    boxes, prices, c = [b for b, ok in zip(boxes, fits) if ok], prices[fits], {key: value[fits] for key, value in c.items()}
    has = np.array([all(s in (p["sku"], b["sku"]) for s in musts) for b in boxes], bool)
    sums = Q.limit - prices
    feeds, env = Q.wirings(n, d["Coils"], d["CoilLoad"])
    if not Q.kits or not len(feeds):
        counts[STEPS[0 if not Q.kits else 1]] += len(boxes)
        return
    bought = np.searchsorted(feeds[:, 0], sums - lower(Q.kits[0]), "right")
    ok = has & (bought > 0)
    counts["over_the_cap"] += int((~ok).sum())
    if not ok.any() or level == -np.inf:
        counts["not_settled"] += int(ok.sum())
        return worst.extend(("not settled", p["sku"]) for k in ok if k)
    boxes = [b for b, k in zip(boxes, ok) if k]
    bought, sums, c = bought[ok], sums[ok], {key: value[ok] for key, value in c.items()}
    motor = Motor(d, p["heat_time"], n, Q.car, Q.R["Limits"])
    b, *need = motor.needs(c, level - SLACK)
    met = len(set(b))
    counts["itself"] += len(boxes) - met
    cost = np.array([lower(k) for k in Q.kits])
    kits = np.maximum(1, np.searchsorted(cost, sums - feeds[0, 0], "right"))
    for k in set(kits[b]):      # the envelope of what each block has money for
        at = kits[b] == k
        fine = allowed([x[at] for x in need], env[bought[b[at]] - 1].T, Q.lines[k - 1])
        keep = np.ones(len(b), bool)
        keep[np.nonzero(at)[0][~fine]] = False
        b, need = b[keep], [x[keep] for x in need]
    counts["envelope"] += met - len(set(b))
    ohms, carries = np.array([k["kit"][:2] for k in Q.kits]).T
    for i in sorted(set(b)):    # then each wiring by itself, with the best kit for it
        mine, line, one = [x[b == i] for x in need], Q.lines[kits[i] - 1], {key: value[i:i + 1] for key, value in c.items()}
        below, above = (motor.needs(one, level + d)[1:] for d in (-SAME, SAME))
        reach = set()
        for w in feeds[:bought[i]]:
            can = (w[0] + cost <= sums[i]) & (w[5] <= carries)
            if allowed(mine, w[1:5], line).any() and can.any():
                own = Line(Q.R["Supply"], ohms[can].min())
                reach |= {x for x, what in (("as_loud", below), ("better", above)) if allowed(what, w[1:5], own).any()}
        step = min(reach, default="one_by_one", key=["better", "as_loud"].index)
        counts[step] += 1
        if reach:
            worst.append((step, p["sku"], "" if "box" in p else boxes[i]["sku"], m))

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
