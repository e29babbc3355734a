"""Draft of an invented women's shirt-dress; all measures from memory, no real block. Millimetres, y down."""
import math, sys
SIZES = ["34","36","38","40","42","44","46","48","50"]
BUST  = [800,840,880,920,960,1020,1080,1140,1200]
WAIST = [640,680,720,760,800,860,920,980,1040]
add=lambda p,q:(p[0]+q[0],p[1]+q[1]); sub=lambda p,q:(p[0]-q[0],p[1]-q[1]); mul=lambda p,k:(p[0]*k,p[1]*k)
dist=lambda p,q:math.hypot(p[0]-q[0],p[1]-q[1])
def unit(p): n=math.hypot(*p); return (p[0]/n,p[1]/n)
def rot(p,c,a):
    x,y=sub(p,c); return (c[0]+x*math.cos(a)-y*math.sin(a), c[1]+x*math.sin(a)+y*math.cos(a))
lerp=lambda p,q,t:(p[0]+(q[0]-p[0])*t,p[1]+(q[1]-p[1])*t)
def ev(s,t):
    if len(s)==2: return lerp(*s,t)
    a,b,c,d=s; u=1-t
    return tuple(u*u*u*a[i]+3*u*u*t*b[i]+3*u*t*t*c[i]+t*t*t*d[i] for i in (0,1))
from functools import lru_cache
GX,GW=__import__("numpy").polynomial.legendre.leggauss(20)
GX,GW=[float(v) for v in GX],[float(v) for v in GW]
@lru_cache(maxsize=200000)
def seglen(s):
    """Length by Gauss quadrature on two halves."""
    if len(s)==2: return dist(*s)
    a,b,c,d=s; l=0
    for lo in (0,0.5):
        for x,w in zip(GX,GW):
            t=lo+(x+1)/4; u=1-t
            l+=w/4*math.hypot(*(3*(u*u*(b[j]-a[j])+2*u*t*(c[j]-b[j])+t*t*(d[j]-c[j])) for j in (0,1)))
    return l
def length(segs): return sum(seglen(s) for s in segs)
def cut(s,t):
    if len(s)==2: m=lerp(*s,t); return (s[0],m),(m,s[1])
    a,b,c,d=s; ab,bc,cd=lerp(a,b,t),lerp(b,c,t),lerp(c,d,t); x,y=lerp(ab,bc,t),lerp(bc,cd,t); m=lerp(x,y,t)
    return (a,ab,x,m),(m,y,cd,d)
rev=lambda segs:[tuple(reversed(s)) for s in reversed(segs)]
def solve(f,a,b):
    fa=f(a)
    for _ in range(50):
        m=(a+b)/2; fm=f(m)
        if (fm>0)==(fa>0): a,fa=m,fm
        else: b=m
    return (a+b)/2
def t_where(s,f): return solve(lambda t:f(ev(s,t)),0,1)
def at(segs,d):
    for s in segs:
        l=seglen(s)
        if d<=l+1e-9:
            if len(s)==2: return lerp(*s,d/l)
            return ev(s,solve(lambda t:seglen(cut(s,t)[0])-d,1e-9,1))
        d-=l
    return segs[-1][-1]
mir=lambda segs,x0:[tuple((2*x0-p[0],p[1]) for p in s) for s in segs]
def arc(r,a0,a1):  # from angle a0 to a1 off the downward vertical, centre (0,0)
    P=lambda a:(r*math.sin(a),r*math.cos(a)); k=4/3*math.tan((a1-a0)/4)*r
    T=lambda a:(math.cos(a),-math.sin(a))
    return (P(a0),add(P(a0),mul(T(a0),k)),sub(P(a1),mul(T(a1),k)),P(a1))
def dartpeak(T,A,B,beyond):
    """Peak of a dart A-B about T that is pressed over towards `beyond`, a point on the edge behind B."""
    half=(math.atan2(B[1]-T[1],B[0]-T[0])-math.atan2(A[1]-T[1],A[0]-T[0]))/2
    d=unit(sub(rot(B,T,half),T)); e=unit(sub(beyond,B))
    den=d[0]*e[1]-d[1]*e[0]; w=sub(B,T); k=(w[0]*e[1]-w[1]*e[0])/den
    return rot(add(T,mul(d,k)),T,-2*half+half*0) if False else add(T,mul(unit(sub(rot(A,T,half),T)),k))
PL1,PL2,PL3=-15,-45,-73
def placket_flat(y): return [((0,y),(PL3,y))]
class Piece:
    def __init__(s,title): s.title=title; s.edges=[]; s.notch=[]; s.inside=[]; s.points=[]; s.grain=None; s.anchor=None
    def E(s,name,segs): s.edges.append((name,segs)); return s
    def get(s,name): return dict(s.edges)[name]
    def len(s,n): return length(s.get(n))
def draft(i, tweak=None):
    b,w=BUST[i],WAIST[i]; P={}
    nw=b/25+36; ad=0.1*b+138; bl=422+5*i; xb=b/8+60; sx,sy=xb+14,40
    hps=(nw,0); tip=(sx,sy); sdir=unit(sub(tip,hps)); perp=(-sdir[1],sdir[0])
    wb=b/4+20; wf=b/4+30
    # ---- back
    DB,DF=22,24
    Wb=(w/4+15+DB,bl-4); Ub=(wb,ad); sd=unit(sub(Wb,Ub)); nin=(-sd[1],sd[0])
    if nin[0]>0: nin=mul(nin,-1)
    ah=lambda tp,U,n,xc:(tp,add(tp,mul(perp,0.62*(U[1]-tp[1]))),add(U,mul(n,0.78*(U[0]-xc))),U)
    bah=ah(tip,Ub,nin,xb)
    yy=20+80+2*i; t=t_where(bah,lambda p:p[1]-yy); yah,kah=cut(bah,t); yx=yah[-1][0]
    bn=((0,20),(0.62*nw,20),add(hps,mul(perp,14)),hps)
    y=Piece("Yoke"); y.E("neck",[bn]).E("shoulder",[(hps,tip)]).E("armhole",[yah]).E("back-seam",[((yx,yy),(0,yy))]).E("cb",[((0,yy),(0,20))])
    y.grain=((30,yy-10),(30,30)); y.notch=[("yoke-mid",(85,yy))]
    P["yoke"]=y
    sh=30; S=lambda p:(p[0]+sh,p[1]); SS=lambda segs:[tuple(S(p) for p in s) for s in segs]
    k=Piece("Back")
    bw0=Wb[0]+sh; wn=unit((-sd[1],sd[0])); wn=wn if wn[0]<0 else mul(wn,-1)
    dx=30+75+i*1.5; 
    dA,dB_=(dx+DB/2,bl),(dx-DB/2,bl); dT=(dx,bl-140); pk=dartpeak(dT,dA,dB_,(0,bl))
    W=S(Wb)
    waist=[(W,add(W,mul(wn,40)),(dA[0]+30,bl),dA),(dA,pk),(pk,dB_),(dB_,(0,bl))]
    k.E("yoke-seam",[((0,yy),(yx+sh,yy))]).E("armhole",SS([kah])).E("side",SS([(Ub,Wb)])).E("waist",waist).E("cb",[((0,bl),(0,yy))])
    k.notch=[("box-fold",(15,yy)),("box-lay",(45,yy)),("box-waist-fold",(15,bl)),("box-waist-lay",(45,bl)),("yoke-mid",(85+sh,yy)),
      ("back",at(rev(SS([kah])),80+2*i)),("dart-a",dA),("dart-b",dB_)]
    k.grain=((70,bl-60),(70,yy+60)); k.inside=[("dart",[(dA,dT),(dT,dB_)]),("bust-line",[((0,ad),(wb+sh,ad))])]
    k.points=[("belt-loop",(W[0]-12,bl-30))]
    P["back"]=k
    # ---- front
    Lside=length([(Ub,Wb)]); U=(wf,ad); d=30+1.5*i; bp=(b/10+3,ad+22+2*i); T=(bp[0]+25,bp[1])
    want=w/4+25+DF
    def side(phi):
        e=(math.sin(phi),math.cos(phi)); A=add(U,mul(e,52+i)); Wc=add(U,mul(e,Lside)); beta=2*math.asin(d/2/dist(T,A))
        return A,rot(A,T,beta),rot(Wc,T,beta)
    phi=solve(lambda ph:side(ph)[2][0]-want,-0.4,0.4); A,B,Wf=side(phi)
    e=(math.sin(phi),math.cos(phi)); nin=(-e[1],e[0]); nin=nin if nin[0]<0 else mul(nin,-1)
    fah=ah(tip,U,nin,xb-14); Pk=dartpeak(T,A,B,Wf)
    fnd=nw+14; fn=((15,fnd),(15+0.5*(nw-15),fnd),add(hps,mul(perp,0.5*fnd)),hps)
    flat0=[((-15,fnd),(15,fnd))]                       # from the folded edge to the centre front
    visible=flat0                               # -15 .. 15, lies over the first facing layer
    lay1=mir(rev(visible),PL1)                        # -45 .. -15
    lay2=mir(rev(lay1),PL2)                           # -75 .. -45
    # trim lay2 at -73
    s0=lay2[0]; tt=t_where(s0,lambda p:p[0]-PL3) ; lay2=[cut(s0,tt)[1]]+lay2[1:]
    yW=Wf[1]+4; sl=unit(sub(Wf,B)); wn=(-sl[1],sl[0]); wn=wn if wn[0]<0 else mul(wn,-1)
    fx=78+2*i; fA,fB=(fx+DF/2,yW),(fx-DF/2,yW); fT=(fx,bp[1]+35); fp=dartpeak(fT,fA,fB,(0,yW))
    f=Piece("Front")
    f.E("placket-top",lay2+lay1).E("neck",flat0+[fn]).E("shoulder",[(hps,tip)]).E("armhole",[fah]).E("side",[(U,A),(A,Pk),(Pk,B),(B,Wf)])
    f.E("waist",[(Wf,add(Wf,mul(wn,30)),(fA[0]+40,yW),fA),(fA,fp),(fp,fB),(fB,(PL3,yW))]).E("placket-edge",[((PL3,yW),(PL3,s0[0][1] if False else lay2[0][0][1]))])
    f.notch=[("placket",(PL1,fnd)),("placket-low",(PL1,yW)),("cf-neck",(0,fnd)),("cf",(0,yW)),("bust-a",A),("bust-b",B),("dart-a",fA),("dart-b",fB),("front",at(rev([fah]),78+2*i))]
    ytop=lay2[-0-1][0][1]
    f.inside=[("fold-1",[((PL1,fnd),(PL1,yW))]),("fold-2",[((PL2,lay1[0][0][1]),(PL2,yW))]),("cf",[((0,fnd),(0,yW))]),
              ("bust-dart",[(A,T),(T,B)]),("waist-dart",[(fA,fT),(fT,fB)]),("bust-line",[((0,ad),(wf,ad))])]
    n=5 if i<5 else 6; y0=fnd+62; y1=yW-42
    f.points=[(f"buttonhole-{j+1}",((0,y0+(y1-y0)*j/(n-1)-8),(0,y0+(y1-y0)*j/(n-1)+8))) for j in range(n)]
    f.grain=((45,yW-120),(45,fnd+90)); P["front"]=f
    # ---- stand and collar
    N=f.len("neck")+y.len("neck")
    bot=lambda X:((0,0),(0.5*X,0),(0.8*X,-5),(X,-19)); X=solve(lambda X:seglen(bot(X))-N,80,400); bo=[bot(X)]
    cfp=at(bo,N-15); q=at(bo,N-16); ct=unit(sub(cfp,q)); cn=(ct[1],-ct[0]); ctop=add(cfp,mul(cn,28))
    end=bo[0][3]; et=unit(sub(bo[0][3],bo[0][2])); en=(et[1],-et[0])
    s=Piece("Collar stand")
    top=[((0,-34),(0.5*X,-34),add(ctop,mul(ct,-0.22*X)),ctop)]
    s.E("top",top).E("end",[(ctop,add(ctop,mul(ct,12)),add(end,mul(en,17)),end)]).E("neck",rev(bo)).E("cb",[((0,0),(0,-34))])
    s.notch=[("cf-top",ctop),("cf-neck",cfp),("shoulder",at(bo,y.len("neck")))]
    mid=add(cfp,mul(cn,14)); s.points=[("buttonhole-1",(add(mid,mul(ct,-10)),add(mid,mul(ct,5)))) ] ; s.grain=((60,-8),(60,-26)); P["stand"]=s
    L=length(top)
    nk=lambda X:((0,0),(0.5*X,0),(0.85*X,6),(X,14)); X=solve(lambda X:seglen(nk(X))-L,80,400); nk=nk(X)
    c=Piece("Collar"); pt=(X+24,14+64)
    c.E("neck",[nk]).E("front",[(nk[3],pt)]).E("outer",[(pt,(0.8*X,66),(0.5*X,50),(0,50))]).E("cb",[((0,50),(0,0))])
    c.notch=[("shoulder",at([nk],y.len("neck")*0.985))]; 
    s.notch.append(("shoulder-top",at(top,y.len("neck")*0.985))); c.notch=[("shoulder-top",c.notch[0][1])]
    c.grain=((60,44),(60,8)); P["collar"]=c
    # ---- sleeves
    AHf=f.len("armhole"); AHb=y.len("armhole")+k.len("armhole"); h=0.6*ad; SL=515+5*i
    net=150+b/14; wr=net+40; Y=SL
    def half(x,dl,AH):
        sdn=unit((-dl,Y-h)); n=(-abs(sdn[1]),-abs(sdn[0])*1)
        return ((0,0),(0.42*x,0),add((x,h),mul(n,0.42*x)),(x,h))
    def build(dl):
        bf=solve(lambda x:seglen(half(x,dl,0))-(AHf+5),80,400); bb=solve(lambda x:seglen(half(x,dl,0))-(AHb+5),80,400); return bf,bb
    def wrist(bf,bb,dl):
        R_=(bf-dl,Y); Lf=(-bb+dl,Y); sr=unit((-dl,Y-h)); nr=(-sr[1],sr[0]); nr=nr if nr[0]<0 else mul(nr,-1); nl=(-nr[0],nr[1])
        # ends are square to the underarm seam, the middle is straight 6 mm lower
        m=Y+5; xm=(R_[0]-0.3*(R_[0]-Lf[0])); xl=Lf[0]+0.2*(R_[0]-Lf[0])
        return [(R_,add(R_,mul(nr,25)),(xm+25,m),(xm,m)),((xm,m),(xl,m)),((xl,m),(xl-12,m),add(Lf,mul(nl,12)),Lf)]
    dl=50.0
    for _ in range(12):
        bf,bb=build(dl); wl=length(wrist(bf,bb,dl)); dl+=(wl-wr)/2
    bf,bb=build(dl); wri=wrist(bf,bb,dl)
    capf=half(bf,dl,0); capb=[tuple((-p[0],p[1]) for p in half(bb,dl,0))]
    def sleeve(title,hem,Yend):
        z=Piece(title); z.E("cap",rev(capb)+[capf]).E("front",[((bf,h),hem[0][0])]).E("hem",hem).E("back",[(hem[-1][-1],(-bb,h))])
        z.notch=[("front",at(rev([capf]),78+2*i)),("back",at(rev(capb),80+2*i)),("shoulder",(0,0)),("yoke",at(rev(rev(capb))[0:1] if False else capb,y.len("armhole")+2))]
        z.grain=((0,Yend-60),(0,60)); return z
    z=sleeve("Long sleeve",wri,Y); whole=length(wri); Sl=at(wri,whole*0.76)
    # split the wrist at the slit
    Ls=whole*0.76
    midl=wri[1]; l0=seglen(wri[0]); tt=(Ls-l0)/seglen(midl); m1,m2=cut(midl,tt)
    z.edges=[e for e in z.edges if e[0]!="hem"]; z.edges.insert(2,("wrist-front",[wri[0],m1])); z.edges.insert(3,("wrist-back",[m2,wri[2]]))
    slit=m1[1]; p=lambda dd:(slit[0]+dd,slit[1])
    z.notch+=[("slit",slit),("pleat-1-to",p(22)),("pleat-1-from",p(42)),("pleat-2-to",p(56)),("pleat-2-from",p(76))]
    z.inside=[("slit",[(slit,(slit[0],slit[1]-110))])]; P["sleeve"]=z
    # ---- cuff
    Lc=net+10; H=60; r=18; kk=r*0.5523
    c=Piece("Cuff"); c.E("lap",[((0,0),(10,0))]).E("top",[((10,0),(Lc,0))])
    c.E("outer",[((Lc,0),(Lc,H-r)),((Lc,H-r),(Lc,H-r+kk),(Lc-r+kk,H),(Lc-r,H)),((Lc-r,H),(r,H)),((r,H),(r-kk,H),(0,H-r+kk),(0,H-r)),((0,H-r),(0,0))])
    nb=z.len("wrist-back"); c.notch=[("lap",(10,0)),("seam",(10+nb,0))]
    c.points=[("buttonhole",((Lc-20,30),(Lc-5,30))),("button",(15-5,30))]; c.grain=((Lc-60,30),(60,30)); P["cuff"]=c
    # ---- short sleeve
    Ys=215+3*i; dS=dl*(Ys-h)/(Y-h); eb=lambda sgn,bx:(sgn*(bx-dS),Ys)
    sr=unit((-dS,Ys-h)); 
    R_=eb(1,bf);Lf=eb(-1,bb); nr=(-sr[1],sr[0]); nr=nr if nr[0]<0 else mul(nr,-1); nl=(-nr[0],nr[1]); m=Ys+8
    hem=[(R_,add(R_,mul(nr,60)),(R_[0]*0.4,m),(0,m)),((0,m),(Lf[0]*0.4,m),add(Lf,mul(nl,60)),Lf)]
    P["short-sleeve"]=sleeve("Short sleeve",hem,Ys)
    # ---- skirt
    th=math.radians(30)
    def sector(title,net,r0,r1,front,pocket,band=False):
        z=Piece(title); a0=arc(r0,0,th); a1=arc(r1,0,th)
        sd=(math.sin(th),math.cos(th)); pt=lambda d:mul(sd,r0+d)
        def flap(ar,yy_):
            t=t_where(ar,lambda p:p[0]-15); a=cut(ar,t)[0]; vis=[((-15,yy_),(0,yy_)),a]; l1=mir(rev(vis),PL1); l2=mir(rev(l1),PL2)
            s0=None; out=[]
            # l2 goes -75..-45 left to right: its first part is straight
            s0=l2[0]; tt=t_where(s0,lambda p:p[0]-PL3); l2=[cut(s0,tt)[1]]+l2[1:]
            return l2+l1+[((-15,yy_),(0,yy_))]
        up=(flap(a0,r0) if front else [])+[a0]; lo=rev((flap(a1,r1) if front else [])+[a1])
        z.E("waist" if not band else "top",up)
        if pocket:
            z.E("side-upper",[(pt(0),pt(60))]).E("pocket-mouth",[(pt(60),pt(220))]).E("side-lower",[(pt(220),pt(r1-r0))]); z.notch+=[("pocket-top",pt(60)),("pocket-bottom",pt(220))]
        else: z.E("side",[(pt(0),pt(r1-r0))])
        z.E("hem",lo); z.E("placket-edge" if front else "cb",[(lo[-1][-1],up[0][0])])
        if front:
            z.notch+=[("cf",(0,r0)),("placket-low",(PL1,r0))]
            if band: pass
            z.inside=[("fold-1",[((PL1,r0),(PL1,r1))]),("fold-2",[((PL2,up[2][0][1] if False else ev(a0,t_where(a0,lambda p:p[0]-15))[1]),(PL2,ev(a1,t_where(a1,lambda p:p[0]-15))[1]))]),("cf",[((0,r0),(0,r1))])]
        g=min(60,r0*0.1)+ (30 if not front else 0); z.grain=((g,r1-(20 if band else 90)),(g,r0+(20 if band else 60))); z.anchor=None
        return z
    fnet=f.len("waist")-(73)-dist(fA,fp)-dist(fp,fB); r0=fnet/th
    knet=k.len("waist")-30-dist(dA,pk)-dist(pk,dB_); rb=knet/th
    LA,LB,HB=740+5*i,520+4*i,110
    A_=sector("Skirt front A",fnet,r0,r0+LA,True,True); B_=sector("Skirt front B",fnet,r0,r0+LB,True,True)
    for z,L,n in ((A_,LA,6),(B_,LB,4)):
        z.points=[(f"buttonhole-{j+1}",((0,r0+55+j*95-8),(0,r0+55+j*95+8))) for j in range(n)]
    P["skirt-front-a"]=A_; P["skirt-front-b"]=B_
    P["skirt-back-a"]=sector("Skirt back A",knet,rb,rb+LA,False,True); P["skirt-back-b"]=sector("Skirt back B",knet,rb,rb+LB,False,True)
    P["band-front"]=sector("Hem band front",0,r0+LB,r0+LB+HB,True,False,True); P["band-back"]=sector("Hem band back",0,rb+LB,rb+LB+HB,False,False,True)
    P["band-front"].notch=[("cf",(0,r0+LB))]; 
    for z in (P["skirt-front-b"],): z.notch+=[("cf-hem",(0,r0+LB))]
    P["band-front"].notch=[("cf-hem",(0,r0+LB))]
    # ---- pocket: mouth on the left, on its own grain
    pk_=Piece("Pocket bag"); D=250; Wd=150
    pk_.E("mouth",[((0,160),(0,0))]).E("bag",[((0,0),(60,-18),(Wd,-10),(Wd,80)),((Wd,80),(Wd,D-40),(Wd-30,D),(85,D)),((85,D),(40,D),(45,185),(0,160))])
    pk_.edges=[pk_.edges[1],pk_.edges[0]]; pk_.grain=((70,200),(70,40)); pk_.notch=[]; P["pocket"]=pk_
    return P
PLACE={"front":(120,60),"back":(520,60),"yoke":(980,60),"stand":(980,330),"collar":(980,420),"cuff":(980,560),"pocket":(1000,720),
 "sleeve":(1600,60),"short-sleeve":(2200,60),"skirt-front-a":(120,700),"skirt-back-a":(1000,700),"skirt-front-b":(1800,700),"skirt-back-b":(2600,700),
 "band-front":(120,2300),"band-back":(1100,2300)}
def fmt(p): return f"{p[0]:.3f},{p[1]:.3f}"
def pathd(segs,close=False):
    d="M "+fmt(segs[0][0])
    for s in segs: d+=(" L "+fmt(s[1])) if len(s)==2 else " C "+" ".join(fmt(q) for q in s[1:])
    return d+(" Z" if close else "")
def svg(draws):
    ox='inkscape:label'; out=['<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" width="3600mm" height="3000mm" viewBox="0 0 3600 3000" version="1.1" id="svg1">\n<defs id="defs1"/>']
    n=0
    for size,P in draws:
        out.append(f'<g {ox}="Size {size}" inkscape:groupmode="layer" id="layer-{size}" style="display:inline">')
        for pid,z in P.items():
            x,y=PLACE[pid]
            if pid.startswith("skirt") or pid.startswith("band"): y=y-z.edges[0][1][-1][0][1] if False else y-[q for q in z.get("waist" if "skirt" in pid else "top")][-1][0][1]
            if pid in("stand",): y+=0
            out.append(f' <g {ox}="{z.title}" id="g{n}" transform="translate({x:.3f},{y:.3f})">'); n+=1
            segs=[s for _,e in z.edges for s in e]
            sty='style="fill:none;stroke:#000000;stroke-width:0.5"'
            out.append(f'  <g {ox}="seam" id="g{n}"><path {sty} d="{pathd(segs,True)}" id="p{n}"/></g>'); n+=1
            if pid=='front':
                q=segs[0][0]; out.append(f'  <g {ox}="corners" id="g{n}"><circle {ox}="first" cx="{q[0]:.3f}" cy="{q[1]:.3f}" r="1" {sty}/></g>'); n+=1
            if z.notch:
                out.append(f'  <g {ox}="notches" id="g{n}">'); n+=1
                for nm,p in z.notch: out.append(f'   <circle {ox}="{nm}" cx="{p[0]:.3f}" cy="{p[1]:.3f}" r="1" {sty} id="c{n}"/>'); n+=1
                out.append('  </g>')
            out.append(f'  <g {ox}="grain" id="g{n}"><path {sty} d="{pathd([z.grain])}" id="p{n}"/></g>'); n+=1
            if z.inside:
                out.append(f'  <g {ox}="inside" id="g{n}">'); n+=1
                for nm,sg in z.inside: out.append(f'   <path {ox}="{nm}" {sty} d="{pathd(sg)}" id="p{n}"/>'); n+=1
                out.append('  </g>')
            if z.points:
                out.append(f'  <g {ox}="points" id="g{n}">'); n+=1
                for nm,p in z.points:
                    if isinstance(p[0],tuple): out.append(f'   <path {ox}="{nm}" {sty} d="{pathd([p])}" id="p{n}"/>')
                    else: out.append(f'   <circle {ox}="{nm}" {sty} cx="{p[0]:.3f}" cy="{p[1]:.3f}" r="2" id="c{n}"/>')
                    n+=1
                out.append('  </g>')
            out.append(' </g>')
        out.append('</g>')
    return "\n".join(out)+"\n</svg>\n"
def main(path):
    draws=[(s,draft(i)) for i,s in enumerate(SIZES)]
    open(path,"w").write(svg(draws))
    return draws
if __name__=="__main__":
    d=main(sys.argv[1] if len(sys.argv)>1 else "drawing/shirt-dress.svg")
    for s,P in d:
        f,k,y=P["front"],P["back"],P["yoke"]
        print(s,{n:round(P[n].len(e),1) for n,e in [("front","side"),("back","side"),("stand","neck"),("collar","neck"),("sleeve","cap"),("cuff","top"),("skirt-front-a","waist"),("skirt-back-a","waist")]},
         "AH",round(f.len("armhole")+k.len("armhole")+y.len("armhole"),1),"wr",round(P["sleeve"].len("wrist-front")+P["sleeve"].len("wrist-back")-40,1),"biceps",round(P["sleeve"].get("front")[0][0][0]-P["sleeve"].get("back")[0][1][0]))
