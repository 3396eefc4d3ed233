// A quarter (x, y >= 0) of a row of six alnico rods over a steel plate, mm, rods' tops at z = 8.5. Options: pitch, gap (between feet and
// plate; 0: they stand on it), scale (of the elements).
SetFactory("OpenCASCADE");
DefineConstant[ pitch = 10.2, gap = 0, scale = 1 ];
radius = 4.85/2; top = 8.5; bottom = -8.5; inner = 45; outer = 65;
Sphere(1) = {0, 0, 0, inner, -Pi/2, Pi/2, Pi/2};
Sphere(2) = {0, 0, 0, outer, -Pi/2, Pi/2, Pi/2};
For i In {0:2}
  Cylinder(10+i) = {0, (i+0.5)*pitch, bottom, 0, 0, top-bottom, radius};
EndFor
Box(13) = {0, 0, bottom-gap-3, 6, 32, 3};
Box(50) = {0, 0, -100, 100, 100, 200};
BooleanIntersection{ Volume{10:13}; Delete; }{ Volume{50}; Delete; }
BooleanFragments{ Volume{1, 2, 10:13}; Delete; }{}
Coherence;
For i In {0:2}
  y = (i+0.5)*pitch;
  rod() = Volume In BoundingBox{-0.1, y-radius-0.1, bottom-0.1, radius+0.1, y+radius+0.1, top+0.1};
  Physical Volume(101+i) = {rod()};
EndFor
plate() = Volume In BoundingBox{-0.1, -0.1, bottom-gap-3.1, 6.1, 32.1, bottom-gap+0.1};
Physical Volume(5) = {plate()};
v() = Volume{:};
Physical Volume(1) = {v(#v()-2)}; // air
Physical Volume(2) = {v(#v()-1)}; // shell out to infinity
s() = Surface{:};
For i In {0:#s()-1}
  b() = BoundingBox Surface{s(i)};
  If (b(2) < 1-outer && b(3) > outer-1 && b(4) > outer-1 && b(5) > outer-1)
    Physical Surface(4) = {s(i)};
  EndIf
EndFor
rims() = {}; axes() = {};
For i In {0:2}
  y = (i+0.5)*pitch;
  rims() += Curve In BoundingBox{-0.1, y-radius-0.1, top-0.01, radius+0.1, y+radius+0.1, top+0.01};
  rims() += Curve In BoundingBox{-0.1, y-radius-0.1, bottom-0.01, radius+0.1, y+radius+0.1, bottom+0.01};
  p = newp; Point(p) = {0, y, top+0.6}; Point(p+1) = {0, y, top+4.5};
  l = newl; Line(l) = {p, p+1};
  axes(i) = l;
EndFor
sides() = Curve In BoundingBox{-0.1, -0.1, bottom-gap-4, 7, 33, top+0.1};
edges() = Curve In BoundingBox{-0.1, -0.1, bottom-gap-3.1, 6.1, 32.1, bottom-gap+0.01};
Field[1] = Distance; Field[1].CurvesList = {rims()}; Field[1].NumPointsPerCurve = 100;
Field[2] = Threshold; Field[2].InField = 1; Field[2].SizeMin = 0.25*scale; Field[2].SizeMax = 1.2*scale; Field[2].DistMin = 0.1; Field[2].DistMax = 3; Field[2].StopAtDistMax = 1;
Field[3] = Distance; Field[3].CurvesList = {axes()}; Field[3].NumPointsPerCurve = 60;
Field[4] = Threshold; Field[4].InField = 3; Field[4].SizeMin = 0.4*scale; Field[4].SizeMax = 1.4*scale; Field[4].DistMin = 0.3; Field[4].DistMax = 3; Field[4].StopAtDistMax = 1;
Field[5] = Distance; Field[5].CurvesList = {sides()}; Field[5].NumPointsPerCurve = 100;
Field[6] = Threshold; Field[6].InField = 5; Field[6].SizeMin = 0.9*scale; Field[6].SizeMax = 9*scale; Field[6].DistMin = 1.5; Field[6].DistMax = 40;
Field[7] = Distance; Field[7].CurvesList = {edges()}; Field[7].NumPointsPerCurve = 200;
Field[8] = Threshold; Field[8].InField = 7; Field[8].SizeMin = 0.5*scale; Field[8].SizeMax = 1.5*scale; Field[8].DistMin = 0.2; Field[8].DistMax = 3; Field[8].StopAtDistMax = 1;
Field[9] = Min; Field[9].FieldsList = {2, 4, 6, 8};
Background Field = 9;
Mesh.MeshSizeExtendFromBoundary = 0; Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2; Mesh.HighOrderOptimize = 1;
