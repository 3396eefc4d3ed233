// A quarter of one rod on a thin steel plate with two thin walls, m; mirror planes x = 0 and y = 0.
// Rod Ø 4.85 × 12 mm, top at z = 0; plate 16 × 20 × 0.5 mm beneath it; walls 0.5 × 20 × 8 mm standing on the plate's edges.
SetFactory("OpenCASCADE");
DefineConstant[ fine = {1, Name "fine"} ];
mm = 1e-3;
inner = 45 * mm;
outer = 65 * mm;
zc = -7 * mm;
Cylinder(1) = {0, 0, -12 * mm, 0, 0, 12 * mm, 2.425 * mm};
Box(2) = {-8 * mm, -10 * mm, -12.5 * mm, 16 * mm, 20 * mm, 0.5 * mm};
Box(3) = {7.5 * mm, -10 * mm, -12 * mm, 0.5 * mm, 20 * mm, 8 * mm};
Sphere(4) = {0, 0, zc, inner};
Sphere(5) = {0, 0, zc, outer};
Box(6) = {0, 0, zc - outer, outer, outer, 2 * outer};
cut() = BooleanIntersection{ Volume{1:5}; Delete; }{ Volume{6}; Delete; };
all() = BooleanFragments{ Volume{cut()}; Delete; }{};
e = 1e-6;
rod() = Volume In BoundingBox{-e, -e, -12*mm - e, 2.425*mm + e, 2.425*mm + e, e};
plate() = Volume In BoundingBox{-e, -e, -12.5*mm - e, 8*mm + e, 10*mm + e, -12*mm + e};
wall() = Volume In BoundingBox{7.5*mm - e, -e, -12*mm - e, 8*mm + e, 10*mm + e, -4*mm + e};
rest() = Volume{:};
rest() -= rod();
rest() -= plate();
rest() -= wall();
b0() = BoundingBox Volume{rest(0)};
If (b0(3) > inner + 1*mm)
  far = rest(0); near = rest(1);
Else
  far = rest(1); near = rest(0);
EndIf
Physical Volume("rod", 1) = {rod()};
Physical Volume("steel", 2) = {plate(), wall()};
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
rims() = Abs(Boundary{ Volume{rod(), plate(), wall()}; });
Field[1] = Distance;
Field[1].SurfacesList = {rims()};
Field[2] = Threshold;
Field[2].InField = 1;
Field[2].SizeMin = 0.7 * mm / fine;
Field[2].SizeMax = 12 * mm / fine;
Field[2].DistMin = 1.5 * mm;
Field[2].DistMax = 45 * mm;
Background Field = 2;
Mesh.MeshSizeExtendFromBoundary = 0;
Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2;
Mesh.Algorithm3D = 10;
