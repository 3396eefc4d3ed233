// A quarter of two rows of slugs beside a bar magnetised across its width, m. Mirror planes: x = 0, where the potential
// vanishes, and y = 0. Slugs Ø 4.75 × 12 mm, tops at z = 0; bar 12.7 × 60 × 3.2 mm, z −12 … −8.8 mm.
SetFactory("OpenCASCADE");
DefineConstant[ fine = {1, Name "fine"}, gap = {0.05, Name "gap"}, near0 = {0.12, Name "near0"} ];
mm = 1e-3;
g = gap * mm;
radius = 2.375 * mm;
half = 6.35 * mm;
xp = half + g + radius;
inner = 60 * mm;
outer = 90 * mm;
zc = -6 * mm;
For i In {1:3}
  Cylinder(i) = {xp, (5.2 + 10.4 * (i - 1)) * mm, -12 * mm, 0, 0, 12 * mm, radius};
EndFor
Box(4) = {0, 0, -12 * mm, half, 30 * mm, 3.2 * mm};
Sphere(5) = {0, 0, zc, inner};
Sphere(6) = {0, 0, zc, outer};
Box(7) = {0, 0, zc - outer, outer, outer, 2 * outer};
cut() = BooleanIntersection{ Volume{5:6}; Delete; }{ Volume{7}; Delete; };
all() = BooleanFragments{ Volume{1:4}; Volume{cut()}; Delete; }{};
e = 1e-5;
slugs() = Volume In BoundingBox{half + g - e, 0, -12*mm - e, xp + radius + e, 40*mm, e};
bar() = Volume In BoundingBox{-e, -e, -12*mm - e, half + e, 30*mm + e, -8.8*mm + e};
rest() = Volume{:};
rest() -= slugs();
rest() -= bar();
b0() = BoundingBox Volume{rest(0)};
If (b0(3) > inner + 1*mm)
  far = rest(0); near = rest(1);
Else
  far = rest(1); near = rest(0);
EndIf
Physical Volume("slugs", 1) = {slugs()};
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
odd() = Surface In BoundingBox{-e, -1, -1, e, 1, 1};
Physical Surface("zero", 5) = {skin(), odd()};
// Where slugs and bar are nearest.
For i In {1:3}
  p1 = newp; Point(p1) = {half + g / 2, (5.2 + 10.4 * (i - 1)) * mm, -12 * mm};
  p2 = newp; Point(p2) = {half + g / 2, (5.2 + 10.4 * (i - 1)) * mm, -8.8 * mm};
  l = newl; Line(l) = {p1, p2};
  lines() += l;
EndFor
rims() = Abs(Boundary{ Volume{slugs(), bar()}; });
Field[1] = Distance;
Field[1].SurfacesList = {rims()};
Field[1].Sampling = 40;
Field[2] = Threshold;
Field[2].InField = 1;
Field[2].SizeMin = 0.8 * mm / fine;
Field[2].SizeMax = 14 * mm / fine;
Field[2].DistMin = 4.5 * mm;
Field[2].DistMax = 60 * mm;
Field[3] = Distance;
Field[3].CurvesList = {lines()};
Field[3].Sampling = 200;
Field[5] = MathEval;
Field[5].F = Sprintf("(%g + 0.28 * F3 * 1000) * %g", near0, mm / fine);
Field[6] = Min;
Field[6].FieldsList = {2, 5};
Background Field = 6;
Mesh.MeshSizeExtendFromBoundary = 0;
Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2;
Mesh.Algorithm3D = 10;
