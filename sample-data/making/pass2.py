import json,sqlite3,sys,os,glob,statistics
from decimal import Decimal as D, ROUND_HALF_UP as H
src,first,dst,ledger=sys.argv[1:5]
c=sqlite3.connect(ledger)
jobs={r[0]:r[1] for r in c.execute('select id,number from job')}
codes={r[0]:r[1] for r in c.execute('select id,code from cost_code')}
new={}; 
for f,code,kind,amt,q,h in c.execute('select l.fact,l.code,l.cost_kind,l.amount_cents,l.quantity_e4,l.hours_e4 from contract_line l'):
    j=[r for r in c.execute('select job from contract where id=?',(f,))][0][0]
    e=new.setdefault((jobs[j],codes[code]),dict(q=0,h=0,a={}))
    e['h']+=(h or 0)/1e4; e['a'][kind]=e['a'].get(kind,0)+amt/100
    if kind=='material' and q: e['q']+=q/1e4
old={}
for fn in sorted(glob.glob(src+'/*.jsonl')):
    for l in open(fn):
        r=json.loads(l)
        if r.get('kind')=='contract':
            for x in r['lines']:
                e=old.setdefault((r['job'],x['code']),dict(q=0,h=0,a={}))
                e['h']+=float(x.get('hours') or 0); e['a'][x['cost_kind']]=e['a'].get(x['cost_kind'],0)+float(x['amount'])
                if x['cost_kind']=='material' and x.get('quantity'): e['q']+=float(x['quantity'])
# hours: one factor a code
fac={}
for code in {k[1] for k in old}:
    rs=[old[k]['h']/new[k]['h'] for k in old if k[1]==code and k in new and new[k]['h']>0 and old[k]['h']>0]
    if rs: fac[code]=statistics.median(rs)
print({k:round(v,2) for k,v in fac.items()})
skip={"deck","gutter","wall"}
def q2(x): return str(x.quantize(D("0.01"),H))
def scale(x,job):
    k=(job,x["code"])
    if x.get("condition") or x["code"] in skip or k not in new or k not in old: return
    if x["code"]=="haul" and x.get("description","").endswith(("load","loads")):
        n=int(x["description"].split()[0]); unit=D(x["amount"])/n
        m=max(1,round(n*new[k]['a'].get('disposal',0)/old[k]['a']['disposal']))
        x["description"]="%d container load%s"%(m,"" if m==1 else "s"); x["amount"]=q2(unit*m); return
    if x.get("quantity") and old[k]['q'] and new[k]['q']:
        q=D(x["quantity"]); r=new[k]['q']/old[k]['q']
        if x["code"]=="shingle" and abs(r-1)<0.03: return
        m=D(round(float(q)*r)) or (D(1) if q>0 else D(-1))
        unit=D(x["amount"])/q
        ou=old[k]['a']['material']/old[k]['q']; nu=new[k]['a']['material']/new[k]['q']
        if x["code"]!="shingle": unit=unit*D(str(nu))/D(str(ou))
        if x["code"]=="vent": x["description"]="Ridge vent and intake vents"
        x["quantity"]=str(m); 
        old_a=D(x["amount"]); x["amount"]=q2(unit*m)
        if x.get("tax"): x["tax"]=q2(D(x["tax"])*D(x["amount"])/old_a)
for fn in sorted(glob.glob(first+'/*.jsonl')):
    out=[]
    for l in open(fn):
        r=json.loads(l)
        if r.get("kind")=="production-rate" and r["code"] in fac:
            f=fac[r["code"]]
            r["hours"]=str(D(str(round(float(r["hours"])*f,4 if f<2 and float(r["hours"])<1 else 3))).normalize())
            if "E" in r["hours"]: r["hours"]=format(D(r["hours"]),'f')
        if r.get("kind") in("bill","purchase-order"):
            for x in r["lines"]: scale(x, x.get("job") or r.get("job"))
        if r.get("do")=="sign":
            for ch in r["choices"].values():
                ch.setdefault("extras",[{"words":"Own lift and dump trailer","code":"sundry","cost_kind":"equipment","amount":"240.00"},{"words":"Sealant, tarps, small things","code":"sundry","cost_kind":"other","amount":"90.00"}])
        out.append(r)
    with open(dst+'/'+os.path.basename(fn),'w') as o:
        for r in out: o.write(json.dumps(r,ensure_ascii=False)+'\n')
