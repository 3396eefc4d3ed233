// A quarter (x, y >= 0) of alnico rods with a body beneath, mm, rods' tops at z = 8.5. Options: beneath (1: ferrite block under a pair
// of rods, 2: steel disc touching one rod's bottom), scale (of the elements).
SetFactory("OpenCASCADE");
DefineConstant[ beneath = 1, scale = 1 ];
If (beneath == 1)
  radius = 2.5; length = 15; y = 5;
Else
  radius = 4.85/2; length = 17; y = 0;
EndIf
top = 8.5; bottom = top - length; inner = 45; outer = 65;
Sphere(1) = {0, 0, 0, inner, -Pi/2, Pi/2, Pi/2};
Sphere(2) = {0, 0, 0, outer, -Pi/2, Pi/2, Pi/2};
Cylinder(10) = {0, y, bottom, 0, 0, length, radius};
If (beneath == 1)
  Box(11) = {0, 0, bottom - 7, 10, 15, 4};
Else
  Cylinder(11) = {0, 0, bottom - 3, 0, 0, 3, 6};
EndIf
Box(50) = {0, 0, -100, 100, 100, 200};
BooleanIntersection{ Volume{10, 11}; Delete; }{ Volume{50}; Delete; }
BooleanFragments{ Volume{1, 2, 10, 11}; Delete; }{}
v() = Volume{:};
Physical Volume(101) = {v(0)}; // rod
Physical Volume(5) = {v(1)};   // the body beneath
Physical Volume(1) = {v(2)};   // air
Physical Volume(2) = {v(3)};   // shell out to infinity
s() = Surface{:};
For i In {0:#s()-1}
  b() = BoundingBox Surface{s(i)};
  If (b(2) < 1-outer && b(3) > outer-1 && b(4) > outer-1 && b(5) > outer-1)
    Physical Surface(4) = {s(i)};
  EndIf
EndFor
rims() = Curve In BoundingBox{-0.1, y-radius-0.1, top-0.01, radius+0.1, y+radius+0.1, top+0.01};
feet() = Curve In BoundingBox{-0.1, y-radius-0.1, bottom-0.01, radius+0.1, y+radius+0.1, bottom+0.01};
sides() = Curve In BoundingBox{-0.1, -0.1, bottom-8, 16, 16, top+0.1};
p = newp; Point(p) = {0, y, top+0.6}; Point(p+1) = {0, y, top+4.5};
l = newl; Line(l) = {p, p+1};
Field[1] = Distance; Field[1].CurvesList = {rims(), feet()}; Field[1].NumPointsPerCurve = 100;
Field[2] = Threshold; Field[2].InField = 1; Field[2].SizeMin = 0.2*scale; Field[2].SizeMax = 1.0*scale; Field[2].DistMin = 0.1; Field[2].DistMax = 3; Field[2].StopAtDistMax = 1;
Field[3] = Distance; Field[3].CurvesList = {l}; Field[3].NumPointsPerCurve = 60;
Field[4] = Threshold; Field[4].InField = 3; Field[4].SizeMin = 0.35*scale; Field[4].SizeMax = 1.2*scale; Field[4].DistMin = 0.3; Field[4].DistMax = 3; Field[4].StopAtDistMax = 1;
Field[5] = Distance; Field[5].CurvesList = {sides()}; Field[5].NumPointsPerCurve = 100;
Field[6] = Threshold; Field[6].InField = 5; Field[6].SizeMin = 0.8*scale; Field[6].SizeMax = 9*scale; Field[6].DistMin = 1.5; Field[6].DistMax = 40;
Field[7] = Min; Field[7].FieldsList = {2, 4, 6};
Background Field = 7;
Mesh.MeshSizeExtendFromBoundary = 0; Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2; Mesh.HighOrderOptimize = 1;
