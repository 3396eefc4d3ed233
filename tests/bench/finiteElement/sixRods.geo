// A quarter of six rods (Ø 4.85 × 17 mm, 10.4 mm apart), in m; mirror planes x = 0 and y = 0.
SetFactory("OpenCASCADE");
DefineConstant[ fine = {1, Name "fine"} ];
mm = 1e-3;
depth = 17 * mm;
radius = 2.425 * mm;
inner = 60 * mm;
outer = 90 * mm;
For i In {1:3}
  Cylinder(i) = {0, (5.2 + 10.4 * (i - 1)) * mm, -depth, 0, 0, depth, radius};
EndFor
Sphere(4) = {0, 0, -depth / 2, inner};
Sphere(5) = {0, 0, -depth / 2, outer};
Box(6) = {0, 0, -depth / 2 - outer, outer, outer, 2 * outer};
cut() = BooleanIntersection{ Volume{1:5}; Delete; }{ Volume{6}; Delete; };
all() = BooleanFragments{ Volume{cut()}; Delete; }{};
rods() = Volume In BoundingBox{-1*mm, 0, -depth - 1*mm, 4*mm, 30*mm, 1*mm};
shell() = Volume{:};
shell() -= rods();
// Of the two volumes left the one with the larger extent is the shell.
b0() = BoundingBox Volume{shell(0)};
If (b0(3) > inner + 1*mm)
  far = shell(0); near = shell(1);
Else
  far = shell(1); near = shell(0);
EndIf
Physical Volume("rods", 1) = {rods()};
Physical Volume("air", 2) = {near};
Physical Volume("far", 3) = {far};
edge() = Surface In BoundingBox{-1*mm, -1*mm, -depth/2 - outer - 1*mm, outer + 1*mm, outer + 1*mm, depth/2 + outer + 1*mm};
border() = Abs(Boundary{ Volume{far}; });
skin() = {};
For s In {0:#border()-1}
  b() = BoundingBox Surface{border(s)};
  If (b(3) > outer - 1*mm && b(0) < 1*mm && b(1) < 1*mm && b(4) > outer - 1*mm)
    skin() += border(s);
  EndIf
EndFor
Physical Surface("skin", 4) = {skin()};
rims() = Abs(Boundary{ Volume{rods()}; });
Field[1] = Distance;
Field[1].SurfacesList = {rims()};
Field[2] = Threshold;
Field[2].InField = 1;
Field[2].SizeMin = 0.6 * mm / fine;
Field[2].SizeMax = 12 * mm / fine;
Field[2].DistMin = 2.5 * mm;
Field[2].DistMax = 45 * mm;
Background Field = 2;
Mesh.MeshSizeExtendFromBoundary = 0;
Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2;
Mesh.Algorithm3D = 10;
