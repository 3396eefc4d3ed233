// An eighth of a row of alnico rods (x, y, z >= 0; mid-height at z = 0), mm. Options: pitch (0: one lone rod), scale (of the elements).
SetFactory("OpenCASCADE");
DefineConstant[ pitch = 10.2, scale = 1 ];
radius = 4.85/2; half = 8.5; inner = 45; outer = 65;
Sphere(1) = {0, 0, 0, inner, 0, Pi/2, Pi/2};
Sphere(2) = {0, 0, 0, outer, 0, Pi/2, Pi/2};
count = (pitch == 0) ? 1 : 3;
For i In {0:count-1}
  y = (pitch == 0) ? 0 : (i + 0.5)*pitch;
  Cylinder(10+i) = {0, y, 0, 0, 0, half, radius};
EndFor
// keep the part of the cylinders inside the octant
Box(50) = {0, 0, 0, 100, 100, 100};
BooleanIntersection{ Volume{10:10+count-1}; Delete; }{ Volume{50}; Delete; }
BooleanFragments{ Volume{1,2,10:10+count-1}; Delete; }{}
Coherence;
// volumes by place
For i In {0:count-1}
  y = (pitch == 0) ? 0 : (i + 0.5)*pitch;
  rod() = Volume In BoundingBox{-0.1, y-radius-0.1, -0.1, radius+0.1, y+radius+0.1, half+0.1};
  Physical Volume(101+i) = {rod()};
  Printf("rod %g: volume %g", i, rod(0));
EndFor
v() = Volume{:};
Physical Volume(1) = {v(#v()-2)}; // air
Physical Volume(2) = {v(#v()-1)}; // shell out to infinity
Physical Surface(3) = {Surface In BoundingBox{-0.1, -0.1, -0.01, 100, 100, 0.01}}; // mid-height: potential 0
s() = Surface{:};
For i In {0:#s()-1}
  b() = BoundingBox Surface{s(i)};
  If (b(3) > outer-1 && b(4) > outer-1 && b(5) > outer-1)
    Physical Surface(4) = {s(i)};
  EndIf
EndFor
edges() = {};
sides() = {};
For i In {0:count-1}
  y = (pitch == 0) ? 0 : (i + 0.5)*pitch;
  edges() += Curve In BoundingBox{-0.1, y-radius-0.1, half-0.01, radius+0.1, y+radius+0.1, half+0.01};
  sides() += Curve In BoundingBox{-0.1, y-radius-0.1, -0.01, radius+0.1, y+radius+0.1, half+0.01};
  p = newp; Point(p) = {0, y, half+0.6}; Point(p+1) = {0, y, half+4.5};
  l = newl; Line(l) = {p, p+1};
  axes(i) = l;
EndFor
Field[1] = Distance; Field[1].CurvesList = {edges()}; Field[1].NumPointsPerCurve = 100;
Field[2] = Threshold; Field[2].InField = 1; Field[2].SizeMin = 0.2*scale; Field[2].SizeMax = 1.0*scale; Field[2].DistMin = 0.1; Field[2].DistMax = 3;
Field[3] = Distance; Field[3].CurvesList = {axes()}; Field[3].NumPointsPerCurve = 60;
Field[4] = Threshold; Field[4].InField = 3; Field[4].SizeMin = 0.35*scale; Field[4].SizeMax = 1.2*scale; Field[4].DistMin = 0.3; Field[4].DistMax = 3;
Field[5] = Distance; Field[5].CurvesList = {sides()}; Field[5].NumPointsPerCurve = 100;
Field[6] = Threshold; Field[6].InField = 5; Field[6].SizeMin = 0.8*scale; Field[6].SizeMax = 9*scale; Field[6].DistMin = 1.5; Field[6].DistMax = 40;
Field[7] = Min; Field[7].FieldsList = {2, 4, 6};
// the two thresholds' far values must not bind far away
Field[2].StopAtDistMax = 1; Field[4].StopAtDistMax = 1;
Background Field = 7;
Mesh.MeshSizeExtendFromBoundary = 0; Mesh.MeshSizeFromPoints = 0;
Mesh.ElementOrder = 2; Mesh.HighOrderOptimize = 1;
