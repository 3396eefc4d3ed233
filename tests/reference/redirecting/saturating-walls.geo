// A quarter of two steel walls with a bar magnet between them, m; y = 0 is a mirror, in x = 0 the potential is 0.
// Wall 1.5 × 56 × 14 mm, top at z = 0; bar 10 × 56 × 5 mm between the walls at their foot, touching both, magnetised along x.
SetFactory("OpenCASCADE");
DefineConstant[ fine = {1, Name "fine"} ];
mm = 1e-3;
inner = 62 * mm;
outer = 85 * mm;
zc = -10 * mm;
Box(1) = {5 * mm, 0, -14 * mm, 1.5 * mm, 28 * mm, 14 * mm};
Box(2) = {0, 0, -14 * mm, 5 * mm, 28 * mm, 5 * mm};
Sphere(3) = {0, 0, zc, inner};
Sphere(4) = {0, 0, zc, outer};
Box(5) = {0, 0, zc - outer, outer, outer, 2 * outer};
cut() = BooleanIntersection{ Volume{3:4}; Delete; }{ Volume{5}; Delete; };
all() = BooleanFragments{ Volume{1, 2, cut()}; Delete; }{};
e = 1e-6;
blade() = Volume In BoundingBox{5*mm - e, -e, -14*mm - e, 6.5*mm + e, 28*mm + e, e};
bar() = Volume In BoundingBox{-e, -e, -14*mm - e, 5*mm + e, 28*mm + e, -9*mm + e};
rest() = Volume{:};
rest() -= blade();
rest() -= bar();
b0() = BoundingBox Volume{rest(0)};
If (b0(3) > inner + 1*mm)
  far = rest(0); near = rest(1);
Else
  far = rest(1); near = rest(0);
EndIf
Physical Volume("blade", 1) = {blade()};
Physical Volume("bar", 2) = {bar()};
Physical Volume("air", 3) = {near};
Physical Volume("far", 4) = {far};
skin() = {};
border() = Abs(Boundary{ Volume{far}; });
For s In {0:#border()-1}
  b() = BoundingBox Surface{border(s)};
  If (b(3) > outer - 1*mm && b(4) > outer - 1*mm && b(0) < 1*mm && b(1) < 1*mm)
    skin() += border(s);
  EndIf
EndFor
middle() = Surface In BoundingBox{-e, -e, zc - outer - e, e, outer + e, zc + outer + e};
skin() += {middle()};
Physical Surface("zero", 5) = {skin()};
rims() = Abs(Boundary{ Volume{blade(), bar()}; });
Field[1] = Distance;
Field[1].SurfacesList = {rims()};
Field[2] = Threshold;
Field[2].InField = 1;
Field[2].SizeMin = 0.7 * mm / fine;
Field[2].SizeMax = 14 * mm / fine;
Field[2].DistMin = 4 * mm;
Field[2].DistMax = 60 * mm;
// The wall's upper edges, and the lines where it meets the bar.
edges() = Curve In BoundingBox{5*mm - e, -e, -e, 6.5*mm + e, 28*mm + e, e};
foot() = Curve In BoundingBox{5*mm - e, -e, -14*mm - e, 5*mm + e, 28*mm + e, -9*mm + e};
Field[3] = Distance;
Field[3].CurvesList = {edges(), foot()};
Field[3].NumPointsPerCurve = 400;
Field[5] = MathEval;
Field[5].F = Sprintf("(0.2 + 0.35 * F3 * 1000) * %g", mm / fine);
Field[6] = Min;
Field[6].FieldsList = {2, 5};
Background Field = 6;
Mesh.MeshSizeExtendFromBoundary = 0;
Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2;
Mesh.Algorithm3D = 10;
