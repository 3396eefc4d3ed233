// A quarter of one slug over the middle of a bar magnetised through its thickness, m; mirror planes x = 0 and y = 0.
// Slug Ø 4.75 × 12 mm, top at z = 0; bar 12.7 × 20 × 3.2 mm, its top `gap` below the slug (0: in contact).
SetFactory("OpenCASCADE");
DefineConstant[ fine = {1, Name "fine"}, gap = {0.05, Name "gap"}, near0 = {0.12, Name "near0"} ];
mm = 1e-3;
top = (-12 - gap) * mm;
radius = 2.375 * mm;
inner = 60 * mm;
outer = 90 * mm;
zc = -8 * mm;
Cylinder(1) = {0, 0, -12 * mm, 0, 0, 12 * mm, radius};
Box(2) = {-6.35 * mm, -10 * mm, top - 3.2 * mm, 12.7 * mm, 20 * mm, 3.2 * mm};
Sphere(3) = {0, 0, zc, inner};
Sphere(4) = {0, 0, zc, outer};
Box(5) = {0, 0, zc - outer, outer, outer, 2 * outer};
cut() = BooleanIntersection{ Volume{1:4}; Delete; }{ Volume{5}; Delete; };
all() = BooleanFragments{ Volume{cut()}; Delete; }{};
e = 1e-6;
slug() = Volume In BoundingBox{-e, -e, -12*mm - e, radius + e, radius + e, e};
bar() = Volume In BoundingBox{-e, -e, top - 3.2*mm - e, 6.35*mm + e, 10*mm + e, top + e};
rest() = Volume{:};
rest() -= slug();
rest() -= bar();
b0() = BoundingBox Volume{rest(0)};
If (b0(3) > inner + 1*mm)
  far = rest(0); near = rest(1);
Else
  far = rest(1); near = rest(0);
EndIf
Physical Volume("slugs", 1) = {slug()};
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
Physical Surface("zero", 5) = {skin()};
rims() = Abs(Boundary{ Volume{slug(), bar()}; });
Field[1] = Distance;
Field[1].SurfacesList = {rims()};
Field[1].Sampling = 40;
Field[2] = Threshold;
Field[2].InField = 1;
Field[2].SizeMin = 0.6 * mm / fine;
Field[2].SizeMax = 14 * mm / fine;
Field[2].DistMin = 4.5 * mm;
Field[2].DistMax = 60 * mm;
// The slug's lower rim, and the gap below it.
rim = newl; Circle(rim) = {0, 0, -12 * mm - gap * mm / 2, radius, 0, Pi / 2};
Field[3] = Distance;
Field[3].CurvesList = {rim};
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
