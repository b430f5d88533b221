import json,glob,sys,os
from decimal import Decimal as D
from jobs import J
src=sys.argv[1]; dst=sys.argv[2]
def inside(poly,x,y):
    c=False; n=len(poly)
    for i in range(n):
        x1,y1=poly[i]; x2,y2=poly[(i+1)%n]
        if (y1>y)!=(y2>y) and x < (x2-x1)*(y-y1)/(y2-y1)+x1: c=not c
    return c
def place(roof):
    by={s["name"]:[(float(c["x_in"]),float(c["y_in"])) for c in s["outline"]] for s in roof["sections"]}
    for k,f in enumerate(roof["features"]):
        if "section" not in f or "at" not in f: continue
        p=by[f["section"]]; x,y=float(f["at"]["x_in"]),float(f["at"]["y_in"])
        cx=sum(a for a,b in p)/len(p); cy=sum(b for a,b in p)/len(p)
        t=0
        ox,oy=x,y
        while not (inside(p,x,y) and all(inside(p,x+dx,y+dy) for dx in(-40,40) for dy in(-40,40))) and t<1:
            t+=0.05; x=ox+(cx-ox)*t; y=oy+(cy-oy)*t
        f["at"]={"x_in":str(round(x/6)*6),"y_in":str(round(y/6)*6)}
for v in J.values(): place(v["roof"])
def sign(r):
    v=J[r["job"]]; price=D(r["price"])
    ch={"price":{"by":"price","value":r["price"]}}
    rec=dict(v["recipe"])
    if "included_sheets" not in rec: rec["included_sheets"]=r.get("included_sheets","0")
    if any(l["code"]=="gutter" for l in r["lines"]): rec.update(gutters=True,downspouts=4,downspout_ft="10")
    ch["recipe"]=rec
    if v["title"]: ch["title"]=v["title"]
    if v["left"]: ch["left_out"]=v["left"]
    terms={"unit_prices":r["unit_prices"],"payments":[{"title":p["title"],"share":str((D(p["amount"])/price).quantize(D("0.000001")).normalize())} for p in r["payments"]]}
    tot=sum(D(p["share"]) for p in terms["payments"]); assert tot==1,(r["job"],tot)
    terms["retainage"]=r.get("retainage","0")
    terms.update(v["terms"])
    acc={"letter":v["letter"],"date":r["date"]}
    if r.get("note"): acc["note"]=r["note"]
    line={"do":"sign","job":r["job"],"draft":{"roof":v["roof"],"terms":terms},"choices":{v["letter"]:ch},"accept":acc}
    if v["keep"]: line["keep"]=True
    return line
EXTRA=json.load(open('/tmp/w/gen/edits.json')) if os.path.exists('/tmp/w/gen/edits.json') else {}
def cards(block):
    # block: consecutive crew-day rows; per person-day-job, what took less than an hour joins the longest task
    per={}; order=[]
    for r in block:
        for p in r["people"]:
            k=(r["date"],p,r["job"],r["code"],r.get("condition"),r["crew"],json.dumps({a:b for a,b in r.items() if a not in("do","date","crew","people","job","code","hours","condition")}))
            per[k]=per.get(k,D(0))+D(r["hours"]); 
            if k not in order: order.append(k)
    days={}
    for k in order: days.setdefault((k[0],k[1],k[2]),[]).append(k)
    for ks in days.values():
        plain=[k for k in ks if not k[4]]
        small=[k for k in plain if per[k]<1]
        big=max(plain,key=lambda k:per[k],default=None)
        for k in small:
            if k!=big: per[big]+=per.pop(k); order.remove(k)
    out=[]; seen={}
    for k in order:
        g=(k[0],k[5],k[2],k[3],k[4],k[6],per[k])
        if g in seen: seen[g]["people"].append(k[1]); continue
        row={"do":"crew-day","date":k[0],"crew":k[5],"people":[k[1]],"job":k[2],"code":k[3],"hours":str(per[k].normalize() if per[k]!=per[k].to_integral() else per[k].quantize(D(1)))}
        if k[4]: row["condition"]=k[4]
        row.update(json.loads(k[6])); seen[g]=row; out.append(row)
    return out
CAUSES={"26-006/1":("failed-flashing","The step flashing was nailed through its face and caulked; the caulk gave out."),
"26-008/1":("old-leak","The plaster below was stained when the house was bought; three sheets are included."),
"26-017/1":("failed-flashing","Parapet side; the counter-flashing had come out of its joint."),
"26-022/1":("not-said","Opened the stair roof last; nobody has called Mrs. Bellweather yet.")}
SEEN={}
def phone(p):
    n=int(p[-4:]); 
    if p in SEEN: return SEEN[p]
    m=n if n<=199 else 100+n%100
    while m in SEEN.values() or m in KEEP and m!=n: m=100+(m-100+7)%100
    SEEN[p]=m; return m
KEEP={114,127,163,188,192}
def edit(r):
    if r.get("phone","").startswith("555-0"): r["phone"]="555-0%03d"%phone(r["phone"])
    if r.get("kind")=="condition" and r["job"]+"/"+r["number"] in CAUSES:
        r["cause"],r["note"]=CAUSES[r["job"]+"/"+r["number"]]
    if r.get("do")=="make" and r["firm"]["state"]=="WI": r["firm"]["state"]="LK"
    if r.get("kind")=="burden-rate" and r["name"]=="State unemployment" and r.get("wage_base")=="12500.00": r["wage_base"]="13800.00"
    return r
n=0
for f in sorted(glob.glob(src+'/*.jsonl')):
    out=[]; block=[]
    for l in open(f):
        if not l.strip(): continue
        r=edit(json.loads(l))
        if r.get("do")=="crew-day": block.append(r); continue
        if block: out+=cards(block); block=[]
        if r.get("kind")=="contract" and r["job"] in J and not r.get("revises"): out.append(sign(r)); n+=1; continue
        out.append(r)
    if block: out+=cards(block)
    with open(dst+'/'+os.path.basename(f),'w') as o:
        for r in out:
            o.write(json.dumps(r,ensure_ascii=False)+'\n')
print(n,'signed')
