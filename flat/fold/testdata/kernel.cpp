// Builds the bent parts of corpus.txt as solids of Open CASCADE and prints what they
// measure. It works in space alone, from mold lines, angles, radii and thickness: no
// flat sheet, no allowance, no K. The numbers it printed are kernel.txt beside it.
//
// Debian (bookworm keeps a header of the first in the last): apt-get install g++
//         libocct-foundation-dev libocct-modeling-data-dev libocct-modeling-algorithms-dev
//         libocct-visualization-dev
//
//	g++ -O1 -I/usr/include/opencascade kernel.cpp -o /tmp/kernel -lTKOffset -lTKBO \
//	    -lTKPrim -lTKTopAlgo -lTKGeomAlgo -lTKBRep -lTKGeomBase -lTKG3d -lTKMath -lTKernel
//	/tmp/kernel < corpus.txt > kernel.txt
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepGProp.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <GProp_GProps.hxx>
#include <gp_Ax1.hxx>
#include <gp_Pnt.hxx>
#include <gp_Vec.hxx>

// A frame of a panel: point (x, y) of its own coordinates at height z off the marking
// face. y runs outward, so that x, y, z is left-handed for every panel but the web.
struct Frame {
  gp_Pnt o{0, 0, 0};
  gp_Vec x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};
  gp_Pnt at(double u, double v, double w) const { return o.Translated(x * u + y * v + z * w); }
};

struct Flange {
  std::string name, parent, turn;
  double ax, ay, bx, by, degrees, r, near0, near1, far0, far1;
  std::vector<std::string> corners;
  Frame frame, hinge;  // of the panel; of the near tangent line: x along, y out, z off the face
  double angle, setback, sign;
};

struct Part {
  std::string name;
  double t = 0, k = 0;
  std::vector<std::string> web;
  std::vector<Flange> flanges;
};

static GProp_GProps volume(const TopoDS_Shape& s) {
  GProp_GProps p;
  BRepGProp::VolumeProperties(s, p, 1e-10);
  return p;
}

static GProp_GProps surface(const TopoDS_Shape& s) {
  GProp_GProps p;
  BRepGProp::SurfaceProperties(s, p, 1e-10);
  return p;
}

static void print(const char* what, const std::string& name, double size, double middle, gp_Pnt c, const gp_Vec* normal) {
  std::printf("%s %s %.9f %.9f %.9f %.9f %.9f", what, name.c_str(), size, middle, c.X(), c.Y(), c.Z());
  if (normal) std::printf(" %.12f %.12f %.12f", normal->X(), normal->Y(), normal->Z());
  std::printf("\n");
}

// The frame of the metal of a bend after turning through a: its x along, y out, z off
// the marking face, its origin on the marking face at station 0.
static Frame turned(const Flange& f, double t, double a) {
  double offset = f.sign > 0 ? f.r : -t - f.r;  // of the axis from the marking face
  Frame m;
  m.x = f.hinge.x;
  m.y = f.hinge.y * std::cos(a) + f.hinge.z * (f.sign * std::sin(a));
  m.z = f.hinge.z * std::cos(a) - f.hinge.y * (f.sign * std::sin(a));
  m.o = f.hinge.at(0, 0, offset).Translated(m.z * -offset);
  return m;
}

static TopoDS_Wire rectangle(const Frame& m, double u0, double u1, double t) {
  return BRepBuilderAPI_MakePolygon(m.at(u0, 0, 0), m.at(u1, 0, 0), m.at(u1, 0, -t), m.at(u0, 0, -t), true).Wire();
}

// The metal of a bend and the surface midway in it. With square ends it is a face
// turned about the axis; otherwise the end runs evenly from the near to the far station
// as the metal turns, and is drawn through sections.
static void curl(const Flange& f, double t, TopoDS_Shape& solid, TopoDS_Shape& middle) {
  Frame m = turned(f, t, 0);
  double mid = -t / 2;
  if (f.near0 == f.far0 && f.near1 == f.far1) {
    gp_Pnt on = f.hinge.at(0, 0, f.sign > 0 ? f.r : -t - f.r);
    gp_Ax1 axis(on, gp_Dir(f.hinge.x * -f.sign));  // turning about -x carries y toward z
    solid = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(rectangle(m, f.near0, f.near1, t)).Face(), axis, f.angle).Shape();
    middle = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeEdge(m.at(f.near0, 0, mid), m.at(f.near1, 0, mid)).Edge(), axis, f.angle).Shape();
    return;
  }
  BRepOffsetAPI_ThruSections body(Standard_True, Standard_False, 1e-9), skin(Standard_False, Standard_False, 1e-9);
  const int n = 48;
  for (int i = 0; i <= n; i++) {
    double p = double(i) / n;
    Frame at = turned(f, t, p * f.angle);
    double u0 = f.near0 + p * (f.far0 - f.near0), u1 = f.near1 + p * (f.far1 - f.near1);
    body.AddWire(rectangle(at, u0, u1, t));
    skin.AddWire(BRepBuilderAPI_MakePolygon(at.at(u0, 0, mid), at.at(u1, 0, mid)).Wire());
  }
  body.Build();
  skin.Build();
  solid = body.Shape();
  middle = skin.Shape();
}

static void build(Part& part) {
  std::map<std::string, Flange*> named;
  for (auto& f : part.flanges) {
    named[f.name] = &f;
    const Frame& p = f.parent == "web" ? Frame() : named.at(f.parent)->frame;
    f.sign = f.turn == "up" ? 1 : -1;
    f.angle = f.degrees * M_PI / 180;
    f.setback = (f.r + part.t) * std::tan(f.angle / 2);
    double face = f.sign > 0 ? -part.t : 0;  // the outside of the bend
    gp_Pnt mold = p.at(f.ax, f.ay, face);
    gp_Vec along(mold, p.at(f.bx, f.by, face));
    along.Normalize();
    gp_Vec out = along.Crossed(p.z);
    f.hinge.x = along;
    f.hinge.y = out;
    f.hinge.z = p.z;
    f.hinge.o = mold.Translated(out * -f.setback + p.z * -face);
    Frame& own = f.frame;
    own.x = along;
    own.y = out * std::cos(f.angle) + p.z * (f.sign * std::sin(f.angle));
    own.z = p.z * std::cos(f.angle) - out * (f.sign * std::sin(f.angle));
    own.o = mold.Translated(own.z * -face);
  }
  auto corners = [&](const std::vector<std::string>& list, const Frame& own, BRepBuilderAPI_MakePolygon& into) {
    for (auto& c : list) {
      auto comma = c.find(',');
      if (comma != std::string::npos) {
        into.Add(own.at(std::stod(c.substr(0, comma)), std::stod(c.substr(comma + 1)), 0));
        continue;
      }
      const Flange& f = *named.at(c);
      into.Add(f.hinge.at(f.near0, 0, 0));
      into.Add(f.hinge.at(f.near1, 0, 0));
    }
    into.Close();
  };
  std::vector<TopoDS_Shape> pieces;
  double sum = 0, area = 0;
  gp_XYZ moment(0, 0, 0);
  auto count = [&](const TopoDS_Shape& solid, double middle) {
    GProp_GProps v = volume(solid);
    double size = std::abs(v.Mass());
    sum += size;
    area += middle;
    moment += v.CentreOfMass().XYZ() * size;
    pieces.push_back(solid);
    return v;
  };
  std::printf("part %s\n", part.name.c_str());
  auto panel = [&](const std::string& name, BRepBuilderAPI_MakePolygon& rim, const Frame& own) {
    TopoDS_Face face = BRepBuilderAPI_MakeFace(rim.Wire()).Face();
    GProp_GProps flat = surface(face);
    count(BRepPrimAPI_MakePrism(face, own.z * -part.t).Shape(), flat.Mass());
    print("panel", name, flat.Mass() * part.t, flat.Mass(), flat.CentreOfMass(), &own.z);
  };
  BRepBuilderAPI_MakePolygon rim;
  corners(part.web, Frame(), rim);
  panel("web", rim, Frame());
  for (auto& f : part.flanges) {
    TopoDS_Shape solid, middle;
    curl(f, part.t, solid, middle);
    double skin = surface(middle).Mass();
    GProp_GProps v = count(solid, skin);
    print("bend", f.name, std::abs(v.Mass()), skin, v.CentreOfMass(), nullptr);
    BRepBuilderAPI_MakePolygon edge;
    edge.Add(f.frame.at(f.far0, f.setback, 0));
    BRepBuilderAPI_MakePolygon* into = &edge;
    std::vector<std::string> rest = f.corners;
    std::ostringstream last;
    last.precision(17);
    last << f.far1 << "," << f.setback;
    rest.push_back(last.str());
    corners(rest, f.frame, *into);
    panel(f.name, edge, f.frame);
  }
  TopoDS_Shape whole = pieces[0];
  for (size_t i = 1; i < pieces.size(); i++) whole = BRepAlgoAPI_Fuse(whole, pieces[i]).Shape();
  print("whole", part.name, sum, area, gp_Pnt(moment / sum), nullptr);
  // Joined, the pieces neither lap nor gape: the same volume.
  std::printf("fused %s %.6f\n", part.name.c_str(), std::abs(volume(whole).Mass()));
}

int main() {
  std::vector<Part> parts;
  std::string line;
  while (std::getline(std::cin, line)) {
    line = line.substr(0, line.find('#'));
    std::istringstream in(line);
    std::string word, colon;
    if (!(in >> word)) continue;
    if (word == "part") {
      parts.emplace_back();
      in >> parts.back().name;
    } else if (word == "sheet") {
      in >> parts.back().t >> parts.back().k;
    } else if (word == "web") {
      in >> colon;
      while (in >> word) parts.back().web.push_back(word);
    } else {
      Flange f;
      in >> f.name >> f.parent >> f.ax >> f.ay >> f.bx >> f.by >> f.turn >> f.degrees >> f.r >> f.near0 >> f.near1 >> f.far0 >> f.far1 >> colon;
      while (in >> word) f.corners.push_back(word);
      parts.back().flanges.push_back(f);
    }
  }
  std::printf("# Printed by kernel.cpp from corpus.txt, Open CASCADE 7.6.3. mm, mm2, mm3.\n");
  std::printf("# panel NAME volume area, centre of the marking face, its direction; bend NAME volume, middle area, centre of gravity\n");
  for (auto& p : parts) build(p);
}
