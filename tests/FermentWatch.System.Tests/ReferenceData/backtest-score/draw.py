# Draws ferments and predictions at random: nothing in them is physical. Only the arithmetic of the score is at stake.
import json, os, random, datetime as dt
R = random.Random(20261125)
os.makedirs("truths", exist_ok=True)
lines = []
fams = ["dry", "fed", "cold"]
for k in range(15):
    fid = f"r{k+1:02d}"; d = f"truths/{fid}"; os.makedirs(d, exist_ok=True)
    p0 = dt.datetime(2026, 1, 1 + k, R.randrange(24), R.randrange(60), tzinfo=dt.timezone.utc)
    n = R.randrange(18, 40); end = 12.0 * (n + 1) + R.random() * 5
    finish = R.uniform(100, 12 * n); stuck = R.random() < 0.5
    s0 = R.uniform(50, 250) if stuck else None
    s1 = s0 + R.uniform(20, 200) if stuck and R.random() < 0.5 else None
    done = None if (stuck and s1 is None) else (R.uniform(80, 12 * n) if R.random() < .8 else None)
    fg = R.uniform(.988, 1.05); og = R.uniform(1.06, 1.13)
    events = [[round(R.uniform(10, 300), 2), R.choice(["temp_drop", "warm_up", "nutrient", "nutrient_rescue", "feed", "stir"]), 1.0] for _ in range(R.randrange(4))]
    ex = [[a, a + R.uniform(4, 60), "cold"] for a in [R.uniform(0, 300) for _ in range(R.randrange(3))]]
    cuts = []; mc = []
    for i in range(n):
        h = 12.0 * (i + 2); fr = min(1.0, h / finish)
        sg = round(og - (og - fg) * fr, 5); e = R.random() < (.4 if stuck else .05)
        fgi = round(fg + R.choice([0, 0, R.uniform(-.01, .02)]), 5)
        cuts.append(dict(cut=i, h=h, sg=sg, fg=fgi, remaining=round(sg - fgi, 5), finish_h=round(R.uniform(60, 2600), 1), ends_stuck=e,
                         rate=round(R.choice([R.uniform(0, .002), R.uniform(0, .03)]), 6), state=R.choice(["lag", "active", "slowing", "stuck", "finished"]), temp=20.0, frac=round(fr, 4)))
        mc.append(dict(cut=i, time=(p0 + dt.timedelta(hours=h)).strftime("%Y-%m-%dT%H:%M:%SZ"), rows=0))
    t = dict(ferment=fid, family=R.choice(fams), og=og, fg=fg, abv_final=10.0, tolerance_abv=14.0, true_finish_h=done, hours_to_within_001_of_fg=finish, stuck=stuck,
             stuck_at_h=s0, stuck_end_h=s1, end_h=end, frac_times_h={f: round(finish * int(f) / 100 + R.uniform(0, 10), 1) for f in ("30", "50", "70", "90")},
             events=events, artefacts=[], temp_excursions=ex, label_timeline=[], cuts=cuts)
    if k == 3: t["frac_times_h"]["90"] = 1e6
    json.dump(t, open(d + "/truth.json", "w"))
    json.dump(dict(ferment=fid, kind="wine", gravity_unit="sg", pitched=p0.strftime("%Y-%m-%dT%H:%M:%SZ"), declared_og=None, declared_tolerance_abv=None, temp_range_c=[15, 25], cuts=mc), open(d + "/meta.json", "w"))
    for c in cuts:
        if R.random() < .04: continue
        w = R.uniform(.0005, .02); mid = c["fg"] + R.gauss(0, w)
        q = [mid + w * z for z in (-1.6, -.7, 0, .7, 1.6)]
        if R.random() < .1: R.shuffle(q)
        q = [round(x, 6) for x in q]
        if R.random() < .03: q[R.randrange(5)] = None
        times = sorted(c["finish_h"] + R.gauss(0, 60) for _ in range(5)); cutoff = R.choice([5, 5, 5, 4, 3, 0])
        f = [(p0 + dt.timedelta(hours=x)).strftime("%Y-%m-%dT%H:%M:%SZ") if i < cutoff else None for i, x in enumerate(times)]
        names = ("p05", "p25", "p50", "p75", "p95")
        lines.append(json.dumps(dict(ferment=fid, cut=c["cut"], fg=dict(zip(names, q)), finish=dict(zip(names, f)),
                     state=c["state"] if R.random() < .6 else R.choice(["lag", "active", "slowing", "stuck", "finished"]), ready=R.random() < .15, temp_alarm=R.random() < .2)))
lines.insert(40, lines[10].replace('"ready": false', '"ready": true'))
open("predictions.jsonl", "w").write("\n".join(lines) + "\n")
