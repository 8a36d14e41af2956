// SPDX-License-Identifier: MIT
// Mass properties against Open CASCADE Technology, whose BRepGProp integrates by quadrature over each
// triangle (method of its own, about eleven digits).
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopoDS_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Pln.hxx>

#include <gtest/gtest.h>

#include "geometry/mesh_io.h"
#include "geometry/moments.h"
#include "geometry/shapes.h"
#include "geometry/solid_check.h"

namespace evenspit {
namespace {

struct Peer {
    double volume;
    Vec3 centre;
    Mat3 inertia;  // about the centre
};

// A plane face for each triangle. They do not share their edges, which the integral over the faces does not
// need.
Peer by_open_cascade(const TriangleMesh& mesh) {
    TopoDS_Compound faces;
    TopoDS_Builder builder;
    builder.MakeCompound(faces);
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 &a = mesh.corner(triangle, 0), &b = mesh.corner(triangle, 1),
                   &c = mesh.corner(triangle, 2);
        const Vec3 normal = (b - a).cross(c - a);
        const auto point = [](const Vec3& p) { return gp_Pnt(p.x(), p.y(), p.z()); };
        const gp_Pln plane(point(a), gp_Dir(normal.x(), normal.y(), normal.z()));
        const TopoDS_Wire outline = BRepBuilderAPI_MakePolygon(point(a), point(b), point(c), true).Wire();
        builder.Add(faces, BRepBuilderAPI_MakeFace(plane, outline).Face());
    }
    GProp_GProps properties;
    BRepGProp::VolumeProperties(faces, properties);

    const gp_Pnt centre = properties.CentreOfMass();
    const gp_Mat inertia = properties.MatrixOfInertia();
    Peer peer{properties.Mass(), {centre.X(), centre.Y(), centre.Z()}, Mat3()};
    for (int i = 0; i < 3; ++i) {
        for (int j = 0; j < 3; ++j) peer.inertia(i, j) = inertia(i + 1, j + 1);
    }
    return peer;
}

struct Named {
    const char* name;
    TriangleMesh (*make)();
};

class MassProperties : public ::testing::TestWithParam<Named> {};

TEST_P(MassProperties, AgreeWithOpenCascade) {
    const TriangleMesh mesh = GetParam().make();
    ASSERT_TRUE(check_solid(mesh).ok()) << check_solid(mesh).found;
    const Moments moments = volume_moments(mesh);
    const Peer peer = by_open_cascade(mesh);
    constexpr double tolerance = 1e-9;
    EXPECT_NEAR(moments.amount, peer.volume, tolerance * peer.volume);
    EXPECT_LE((moments.centre - peer.centre).norm(), tolerance * bounds(mesh).diagonal().norm());
    EXPECT_LE((moments.inertia() - peer.inertia).norm(), tolerance * peer.inertia.norm())
        << moments.inertia() << "\nfor\n"
        << peer.inertia;
}

TriangleMesh bunny() {
    return read_mesh(EVENSPIT_DATA_DIR "/bunny00.off").mesh;
}

TriangleMesh leaning() {
    // Off the origin and along none of the axes.
    const Pose pose =
        Eigen::Translation3d(0.3, -0.2, 0.5) * Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized());
    return transformed(test::wavy_mesh(), pose);
}

INSTANTIATE_TEST_SUITE_P(
    Reference, MassProperties,
    ::testing::Values(Named{"box",
                            [] {
                                return test::box_mesh({-1, 2, 3}, {4, 4, 7});
                            }},
                      Named{"tetrahedron",
                            [] {
                                return test::tetrahedron_mesh({8.33220, -11.86875, 0.93355},
                                                              {0.75523, 5, 16.37072}, {52.61236, 5, -5.38580},
                                                              {2, 5, 3});
                            }},
                      Named{"cube_with_hole", [] { return test::tube_mesh(2, 2, 1.0, 1.5, 0.25, 0.75); }},
                      Named{"ellipsoid",
                            [] {
                                return test::ellipsoid_mesh(0.12, 0.08, 0.06, {0.1, 0, 0.2});
                            }},
                      Named{"torus", [] { return test::torus_mesh(0.3, 0.1, 64); }},
                      Named{"cone", [] { return test::cone_mesh(0.3, 0.7, 64); }},
                      Named{"leaning_wavy_body", leaning}, Named{"scanned_bunny", bunny}),
    [](const auto& mesh) { return mesh.param.name; });

}  // namespace
}  // namespace evenspit
