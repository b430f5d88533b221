import math
def sec(name, slope, corners):
    return {"name": name, "slope": str(slope), "outline": [{"x_in": str(round(x*12)), "y_in": str(round(y*12)), "edge": e} for x,y,e in corners]}
def gable(w,d,s,right="rake",left="rake",names=("front","back")):
    m=d/2
    return [sec(names[0],s,[(0,0,"eave"),(w,0,right),(w,m,"ridge"),(0,m,left)]),
            sec(names[1],s,[(0,m,"ridge"),(w,m,right),(w,d,"eave"),(0,d,left)])]
def hip(w,d,s):
    r=d/2; l,rt=r,w-r
    return [sec("front",s,[(0,0,"eave"),(w,0,"hip"),(rt,r,"ridge"),(l,r,"hip")]),
            sec("right",s,[(w,0,"eave"),(w,d,"hip"),(rt,r,"hip")]),
            sec("back",s,[(w,d,"eave"),(0,d,"hip"),(l,r,"ridge"),(rt,r,"hip")]),
            sec("left",s,[(0,d,"eave"),(0,0,"hip"),(l,r,"hip")])]
def ell(w,d,s,x0,ww,wp,right="rake"):
    m=d/2; h=ww/2; xm=x0+h; x1=x0+ww
    return [sec("front",s,[(0,0,"eave"),(x0,0,"valley"),(xm,h,"valley"),(x1,0,"eave"),(w,0,right),(w,m,"ridge"),(0,m,"rake")]),
            sec("back",s,[(0,m,"ridge"),(w,m,right),(w,d,"eave"),(0,d,"rake")]),
            sec("wing left",s,[(x0,0,"eave"),(x0,-wp,"rake"),(xm,-wp,"ridge"),(xm,h,"valley")]),
            sec("wing right",s,[(x1,-wp,"eave"),(x1,0,"valley"),(xm,h,"ridge"),(xm,-wp,"rake")])]
def porch(name,x,y,w,p,s):
    # a lower roof whose high edge lies against the wall under the main eave: drawn a foot away from it
    return [sec(name,s,[(x,y-p,"eave"),(x+w,y-p,"rake"),(x+w,y,"headwall"),(x,y,"rake")])]
def leanto(name,x,y,w,p,s,side="wall"):
    return [sec(name,s,[(x,y-p,"eave"),(x+w,y-p,side),(x+w,y,"headwall"),(x,y,"rake")])]
def area(sections):
    t=0
    for c in sections:
        o=[(float(q["x_in"])/12,float(q["y_in"])/12) for q in c["outline"]]
        a=abs(sum(o[i][0]*o[(i+1)%len(o)][1]-o[(i+1)%len(o)][0]*o[i][1] for i in range(len(o))))/2
        t+=a*math.sqrt(1+(float(c["slope"])/12)**2)
    return t/100
def feat(kind,section=None,at=None,w=None,l=None,count=1,**k):
    f={"kind":kind,"count":count}
    if section: f["section"]=section
    if at: f["at"]={"x_in":str(round(at[0]*12)),"y_in":str(round(at[1]*12))}
    if w: f["width_in"]=str(w)
    if l: f["length_in"]=str(l)
    f.update(k); return f
def house(stories=1,deck="plywood",layers=1,attic="0",balanced=True,cut="some",old=False,overhang="12",spacing="24"):
    return {"stories":stories,"deck":deck,"rafter_spacing_in":spacing,"overhang_in":overhang,"wall_thickness_in":"6","layers":layers,"attic_floor_sqft":attic,"balanced_vents":balanced,"cut_up":cut,"built_before_1978":old}
