// SPDX-License-Identifier: MIT
#include "geometry/mesh_io.h"

#include <cmath>
#include <limits>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "files.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "mesh_file_test.h"
#include "shapes.h"
#include "units/error.h"

namespace evenspit {
namespace {

using test::bytes_of;
using test::corner_points;
using test::corner_triangles;
using test::Points;
using test::Triangles;
using ::testing::AllOf;
using ::testing::HasSubstr;

using MeshIo = test::MeshFileTest;

// --- any format

TEST_F(MeshIo, MissingFile) {
    EXPECT_THAT(complaint(folder / "none.ply"), HasSubstr("no such file"));
}

TEST_F(MeshIo, Folder) {
    std::filesystem::create_directory(folder / "folder.ply");
    EXPECT_THAT(complaint(folder / "folder.ply"), HasSubstr("a folder"));
}

TEST_F(MeshIo, Device) {
    EXPECT_THAT(complaint("/dev/zero"), HasSubstr("neither a file nor a folder"));
}

TEST_F(MeshIo, UnknownEnding) {
    EXPECT_THAT(complaint("a.xyz", "0 0 0"), AllOf(HasSubstr("'.xyz'"), HasSubstr(".ply, .stl")));
    EXPECT_THAT(complaint("a", "0 0 0"), HasSubstr("without ending"));
}

TEST_F(MeshIo, EmptyFile) {
    for (const char* name : {"a.ply", "a.stl", "a.obj", "a.off", "a.gltf", "a.glb"}) {
        EXPECT_THAT(complaint(name, ""), HasSubstr("an empty file")) << name;
    }
}

TEST_F(MeshIo, Gibberish) {
    std::mt19937 random{1};
    std::string noise;
    for (int i = 0; i < 5000; ++i) noise += char(random());
    for (const char* name : {"a.ply", "a.stl", "a.off", "a.gltf", "a.glb"}) {
        EXPECT_NE(complaint(name, noise), "") << name;
    }
    EXPECT_THAT(complaint("a.obj", noise), HasSubstr("no triangles"));
}

TEST_F(MeshIo, EndingInCapitals) {
    expect_corner(read("A.OBJ", "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 3 1 4\n"));
}

TEST_F(MeshIo, WeldsAndDrops) {
    // Two triangles with corners of their own, an unused vertex, a triangle that welding makes a line, and −0
    // beside 0.
    const MeshFile file = read("a.obj",
                               "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 9 9 9\nv -0.0 0 0\nv 1 0 0\nv 0 0 1\n"
                               "f 1 2 3\nf 5 7 6\nf 2 6 3\n");
    EXPECT_EQ(file.mesh.vertices, (Points{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}));
    EXPECT_EQ(file.mesh.triangles, (Triangles{{0, 1, 2}, {0, 3, 1}}));
    EXPECT_EQ(file.welded, 2u);
    EXPECT_FALSE(file.metres_per_unit);
    EXPECT_TRUE(file.regions.empty());
}

TEST_F(MeshIo, CoordinatesThatAreNotFinitePass) {
    const MeshFile file = read("a.obj", "v nan 0 0\nv 1 -inf 0\nv 0 1 0\nf 1 2 3\n");
    EXPECT_TRUE(std::isnan(file.mesh.vertices[0].x()));
    EXPECT_EQ(check_solid(file.mesh).fault, SolidFault::not_finite);
    // They weld with nothing, or else a mesh of nothing but NaN would have no triangles to complain about.
    EXPECT_EQ(read("b.obj", "v nan 0 0\nv nan 0 0\nv nan 0 0\nf 1 2 3\n").mesh.triangles.size(), 1u);
}

// --- round trips

class RoundTrip : public MeshIo, public ::testing::WithParamInterface<const char*> {};

TEST_P(RoundTrip, KeepsTheMesh) {
    const TriangleMesh mesh = test::wavy_mesh(20, 12);
    const auto path = folder / (std::string("a") + GetParam());
    write_mesh(path, mesh);
    const MeshFile file = read_mesh(path);
    if (std::string_view(GetParam()) == ".stl") {
        // Each triangle alone, in single precision.
        EXPECT_EQ(file.mesh.vertices.size(), mesh.vertices.size());
        EXPECT_EQ(file.welded, 3 * mesh.triangles.size() - mesh.vertices.size());
        EXPECT_EQ(file.mesh.triangles.size(), mesh.triangles.size());
        EXPECT_TRUE(check_solid(file.mesh).ok());
        EXPECT_NEAR(volume_moments(file.mesh).amount, volume_moments(mesh).amount,
                    1e-6 * volume_moments(mesh).amount);
    } else {
        EXPECT_EQ(file.mesh.vertices, mesh.vertices);
        EXPECT_EQ(file.mesh.triangles, mesh.triangles);
        EXPECT_EQ(file.welded, 0u);
    }
    EXPECT_EQ(file_count(), 1u) << "nothing else is left behind";
}

// However many bytes are missing from the end, no reader gets lost, and none takes binary data that are not
// all there.
TEST_P(RoundTrip, TruncatedAnywhere) {
    const auto path = folder / (std::string("a") + GetParam());
    write_mesh(path, test::box_mesh({-1, -1, -1}, {1, 1, 1}));
    const std::string whole = get(path);
    const bool text = std::string_view(GetParam()) == ".obj" || std::string_view(GetParam()) == ".off";
    for (std::size_t size = 0; size < whole.size(); ++size) {
        put(path.filename().string(), whole.substr(0, size));
        try {
            const MeshFile file = read_mesh(path);
            EXPECT_TRUE(text) << size << " bytes of " << whole.size();
        } catch (const InputError&) {
        }
    }
}

// Any damage ends in a complaint or in a mesh whose triangles name vertices that are there.
TEST_P(RoundTrip, DamagedAnyhow) {
    const auto path = folder / (std::string("a") + GetParam());
    write_mesh(path, test::box_mesh({-1, -1, -1}, {1, 1, 1}));
    const std::string whole = get(path);
    std::mt19937 random{7};
    for (int i = 0; i < 500; ++i) {
        std::string damaged = whole;
        for (unsigned k = 0; k <= random() % 4; ++k) {
            const std::size_t at = random() % damaged.size();
            if (random() % 3 == 0) {
                damaged[at] = char(random());
            } else {
                damaged[at] = "0123456789-e. \n"[random() % 15];
            }
        }
        put(path.filename().string(), damaged);
        try {
            EXPECT_NE(check_solid(read_mesh(path).mesh).fault, SolidFault::bad_index);
        } catch (const InputError&) {
        }
    }
}

INSTANTIATE_TEST_SUITE_P(MeshIo, RoundTrip, ::testing::Values(".ply", ".stl", ".obj", ".off"),
                         [](const auto& ending) { return std::string(ending.param + 1); });

TEST_F(MeshIo, PlyKeepsRegions) {
    const TriangleMesh mesh{corner_points, corner_triangles};
    write_mesh(folder / "a.ply", mesh, {3, -1, 0, 7});
    const MeshFile file = read_mesh(folder / "a.ply");
    expect_corner(file);
    EXPECT_EQ(file.regions, (std::vector<std::int32_t>{3, -1, 0, 7}));
}

// --- writing

TEST_F(MeshIo, WritesOnlyWhatItKnows) {
    const TriangleMesh mesh{corner_points, corner_triangles};
    EXPECT_THROW(write_mesh(folder / "a.xyz", mesh), InputError);
    EXPECT_THROW(write_mesh(folder / "a", mesh), InputError);
    EXPECT_THROW(write_mesh(folder / "a.glb", mesh), InputError);
    EXPECT_THROW(write_mesh(folder / "a.stl", mesh, {1, 2, 3, 4}), InputError)
        << "STL has no place for regions";
    EXPECT_EQ(file_count(), 0u);
}

TEST_F(MeshIo, FailedWriteLeavesWhatWasThere) {
    // The name is taken by a folder: moving the finished file to its place fails.
    std::filesystem::create_directories(folder / "a.ply" / "inner");
    EXPECT_THROW(write_mesh(folder / "a.ply", {corner_points, corner_triangles}), InputError);
    EXPECT_TRUE(std::filesystem::is_directory(folder / "a.ply" / "inner"));
    EXPECT_EQ(file_count(), 1u);
    EXPECT_THROW(write_mesh(folder / "none" / "a.ply", {corner_points, corner_triangles}), InputError);
}

// --- STL

const std::string facet =
    "facet normal 0 0 -1\nouter loop\nvertex 0 0 0\nvertex 0 1 0\nvertex 1 0 0\nendloop\nendfacet\n";

std::string binary_stl(std::string header, const Triangles& triangles, const Points& points = corner_points) {
    header.resize(80, ' ');
    std::string bytes = header + bytes_of({std::uint32_t(triangles.size())});
    for (const Triangle& t : triangles) {
        bytes += bytes_of({0.0f, 0.0f, 0.0f});
        for (const std::int32_t v : t) {
            for (const double x : points[std::size_t(v)]) bytes += bytes_of({float(x)});
        }
        bytes += bytes_of({std::uint16_t(0)});
    }
    return bytes;
}

TEST_F(MeshIo, StlText) {
    const MeshFile file = read("a.stl", "solid named facet\n" + facet + "endsolid named facet\n");
    EXPECT_EQ(file.mesh.vertices, (Points{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}}));
    EXPECT_EQ(file.mesh.triangles, (Triangles{{0, 1, 2}}));
}

TEST_F(MeshIo, StlTextVariants) {
    // Capitals, no names, indents, a facet without normal, two solids.
    EXPECT_EQ(read("a.stl",
                   "SOLID\n FACET\n  OUTER LOOP\n   VERTEX 0 0 0\n   VERTEX 0 1 0\n   VERTEX 1e0 +0 -0\n  "
                   "ENDLOOP\n ENDFACET\nENDSOLID\n" +
                       ("solid two\n" + facet + "endsolid"))
                  .mesh.triangles.size(),
              2u);
}

TEST_F(MeshIo, StlBinary) {
    const MeshFile file = read("a.stl", binary_stl("made by hand", corner_triangles));
    EXPECT_EQ(file.mesh.vertices.size(), 4u);
    EXPECT_EQ(file.welded, 8u);
    EXPECT_TRUE(check_solid(file.mesh).ok());
}

// Corners of neighbours in the file are compared before they are sought: no place may be joined that is none.
TEST_F(MeshIo, StlBinaryCornersThatAreNotFiniteAreLikeNoOther) {
    constexpr double inf = std::numeric_limits<double>::infinity();
    for (const double x : {inf, -inf, std::nan("")}) {
        const MeshFile file = read(
            "a.stl", binary_stl("x", {{0, 1, 2}, {0, 2, 3}}, {{x, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}));
        EXPECT_EQ(file.mesh.vertices.size(), 5U) << x;
        EXPECT_EQ(file.welded, 1U) << x;
    }
    // Finite, though their sum is not a float.
    const MeshFile far = read(
        "b.stl", binary_stl("x", {{0, 1, 2}, {0, 2, 3}}, {{3e38, 3e38, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}));
    EXPECT_EQ(far.mesh.vertices.size(), 4U);
    // −0 is 0.
    EXPECT_EQ(read("c.stl",
                   binary_stl("x", {{0, 1, 2}, {0, 3, 1}}, {{0, 0, 0}, {1, 0, -0.0}, {0, 1, 0}, {1, 0, 0}}))
                  .welded,
              3U);
}

TEST_F(MeshIo, StlBinaryThatSaysSolid) {
    for (const char* header :
         {"solid", "solid facet normal 0 0 1 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0"}) {
        EXPECT_EQ(read("a.stl", binary_stl(header, corner_triangles)).mesh.triangles.size(), 4u);
    }
}

TEST_F(MeshIo, StlComplaints) {
    const std::string whole = binary_stl("x", corner_triangles);
    EXPECT_THAT(complaint("a.stl", whole.substr(0, 83)), HasSubstr("83 bytes"));
    EXPECT_THAT(
        complaint("a.stl", whole.substr(0, 250)),
        AllOf(HasSubstr("250 bytes for 4 triangles"), HasSubstr("284 bytes"), HasSubstr("cut short")));
    EXPECT_THAT(complaint("a.stl", whole + "more"),
                AllOf(HasSubstr("288 bytes for 4 triangles"), HasSubstr("damaged")));
    EXPECT_THAT(complaint("a.stl", binary_stl("x", {})), HasSubstr("no triangles"));
    EXPECT_THAT(complaint("a.stl", std::string(80, 'x') + bytes_of({0xffffffffu}) + "..."),
                HasSubstr("4294967295 triangles"));
    EXPECT_THAT(complaint("a.stl", "solid\nendsolid\n"), HasSubstr("no triangles"));
    EXPECT_THAT(complaint("a.stl", "solid\n" + facet),
                AllOf(HasSubstr("end of the file"), HasSubstr("'endsolid'")));
    EXPECT_THAT(complaint("a.stl", "solid\n" + facet.substr(0, 57)), HasSubstr("end of the file"));
    EXPECT_THAT(complaint("a.stl", "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 zero\n"),
                HasSubstr(":4: found 'zero'"));
    EXPECT_THAT(
        complaint("a.stl", "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nendloop\n"),
        AllOf(HasSubstr(":6: found 'endloop'"), HasSubstr("'vertex'")));
    EXPECT_THAT(complaint("a.stl",
                          "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 1 1 "
                          "0\nvertex 0 1 0\n"),
                AllOf(HasSubstr(":7: found 'vertex'"), HasSubstr("'endloop'")));
    EXPECT_THAT(complaint("a.stl", "solid\n" + facet + "endsolid\nrubbish"), HasSubstr("'rubbish'"));
}

// --- OBJ

TEST_F(MeshIo, ObjVariants) {
    expect_corner(read("a.obj",
                       "# made by hand\nmtllib none.mtl\no thing\nv 0 0 0\nv 1 0 0 1.0\nv 0 1 0 0.5 0.5 "
                       "0.5\nv 0 0 1 # the tip\nvt 0 0\nvn 0 0 1\n"
                       "usemtl stone\ns off\ng sides\nf 1//1 3//1 2//1\nf\t1/1\t2/1\t4/1\nf -3 -2 \\\n -1\nf "
                       "3/1/1 1/1/1 4/1/1\nl 1 2\np 1\nvp 0.1\n"));
}

TEST_F(MeshIo, ObjVerticesAfterFaces) {
    expect_corner(read("a.obj", "f 1 3 2\nf 1 2 4\nf 2 3 4\nf 3 1 4\nv 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\n"));
}

TEST_F(MeshIo, ObjQuadsOfACube) {
    const MeshFile file = read("a.obj",
                               "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nv 0 0 1\nv 1 0 1\nv 1 1 1\nv 0 1 1\n"
                               "f 4 3 2 1\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n");
    EXPECT_TRUE(check_solid(file.mesh).ok());
    EXPECT_DOUBLE_EQ(volume_moments(file.mesh).amount, 1);
}

TEST_F(MeshIo, ObjDentedPolygonKeepsItsVolume) {
    // A prism on an L: the fan from one corner leaves the L, and takes back what it took too much.
    std::string text;
    for (const int z : {0, 1}) {
        text += fmt::format("v 2 1 {0}\nv 1 1 {0}\nv 1 2 {0}\nv 0 2 {0}\nv 0 0 {0}\nv 2 0 {0}\n", z);
    }
    text += "f 6 5 4 3 2 1\nf 7 8 9 10 11 12\n";
    for (int i = 0; i < 6; ++i) {
        text += fmt::format("f {} {} {} {}\n", i + 1, (i + 1) % 6 + 1, (i + 1) % 6 + 7, i + 7);
    }
    const MeshFile file = read("a.obj", text);
    EXPECT_TRUE(check_solid(file.mesh).ok()) << check_solid(file.mesh).found;
    EXPECT_DOUBLE_EQ(volume_moments(file.mesh).amount, 3);
}

TEST_F(MeshIo, ObjComplaints) {
    EXPECT_THAT(complaint("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 3 \\\n"),
                AllOf(HasSubstr("end of the file"), HasSubstr("face")));
    const std::string vertices = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
    EXPECT_THAT(complaint("a.obj", vertices), HasSubstr("no triangles"));
    EXPECT_THAT(complaint("a.obj", vertices + "f 1 2 4\n"),
                HasSubstr(":4: found vertex 4 in a face; expected one of the file's 3"));
    EXPECT_THAT(complaint("a.obj", vertices + "f 0 1 2\n"), HasSubstr("vertex 0"));
    EXPECT_THAT(complaint("a.obj", vertices + "f -1 -2 -4\n"), HasSubstr("vertex -4"));
    EXPECT_THAT(complaint("a.obj", vertices + "f 1 2 99999999999999999999\n"),
                HasSubstr("'99999999999999999999'"));
    EXPECT_THAT(complaint("a.obj", vertices + "f 1 2 x\n"), HasSubstr(":4: found 'x'"));
    EXPECT_THAT(complaint("a.obj", "v 0 0\nf 1 1 1\n"), HasSubstr(":1: found 3 values"));
    EXPECT_THAT(complaint("a.obj", "v 0 0 0,5\n"), HasSubstr("write decimals with a point"));
    EXPECT_THAT(complaint("a.obj", "v 0 0 \x1b[31m\n"), HasSubstr("'?[31m'"))
        << "nothing that a terminal would obey";
}

// Lines as most files have them are read by a way of their own; what stands in any other way is the same.
TEST_F(MeshIo, ObjLinesPlainAndOddAreOne) {
    const std::string plain =
        "v 0 0 0\nv 1 0 0\nv 0 1e0 0\nv 0 0 1.00000000000000000\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 3 1 4\n";
    expect_corner(read("a.obj", plain));
    for (const std::string end : {"\r\n", "\r", " \n", "\t# aside\n", "\n\n  \n"}) {
        std::string odd;
        for (const char c : plain) odd += c == '\n' ? end : std::string(1, c);
        expect_corner(read("a.obj", odd));
        odd.resize(odd.size() - end.size());
        expect_corner(read("a.obj", odd));  // the last line need not end
    }
    expect_corner(read(
        "a.obj", "v  0 0 -0\nv +1 .0 0.\nv 0\t1 0\nv 0 0 1 1\nf 1 3 2\nf 1 2 4\nf 2// 3/1 4\nf 3 1 -1\n"));
    EXPECT_THAT(complaint("a.obj", plain + "f 1 2 5\n"), HasSubstr(":9: found vertex 5 in a face"));
    EXPECT_THAT(complaint("a.obj", plain + "\nv 1 2 x\n"), HasSubstr(":10: found 'x'"));
}

// --- OFF

const std::string off_lines = "0 0 0\n1 0 0\n0 1 0\n0 0 1\n3 0 2 1\n3 0 1 3\n3 1 2 3\n3 2 0 3\n";

TEST_F(MeshIo, OffVariants) {
    expect_corner(read("a.off", "OFF\n4 4 6\n" + off_lines));
    expect_corner(read("a.off", "OFF 4 4 0\n" + off_lines));
    expect_corner(read("a.off", "4 4 0\n" + off_lines));
    expect_corner(read("a.off", "# a comment\nOFF # keyword\n\n# another\n4 4 0\n" + off_lines));
    expect_corner(read("a.off",
                       "COFF\n4 4 0\n0 0 0 255 0 0 1\n1 0 0 255 0 0 1\n0 1 0 0 0 0 1\n0 0 1 1 1 1 1\n"
                       "3 0 2 1 0.1 0.2 0.3\n3 0 1 3 7\n3 1 2 3\n3 2 0 3\n"));
}

TEST_F(MeshIo, OffComplaints) {
    EXPECT_THAT(complaint("a.off", "OFF BINARY\n"), HasSubstr("a binary OFF"));
    EXPECT_THAT(complaint("a.off", "4OFF\n4 4 0\n"), HasSubstr("three coordinates"));
    EXPECT_THAT(complaint("a.off", "OFF\n"), HasSubstr("end of the file"));
    EXPECT_THAT(complaint("a.off", "OFF\n4\n" + off_lines), HasSubstr(":2: found 1 values"));
    EXPECT_THAT(complaint("a.off", "OFF\n5 4 0\n" + off_lines), HasSubstr("face 4 of 4"));
    EXPECT_THAT(complaint("a.off", "OFF\n4 5 0\n" + off_lines), HasSubstr("face 5 of 5"));
    EXPECT_THAT(complaint("a.off", "OFF\n3 4 0\n" + off_lines), HasSubstr(":8: found vertex 3 in a face"));
    EXPECT_THAT(complaint("a.off", "OFF\n-4 4 0\n" + off_lines), HasSubstr("-4 vertices"));
    EXPECT_THAT(complaint("a.off", "OFF\n4000000000 4 0\n" + off_lines), HasSubstr("4000000000 vertices"));
    EXPECT_THAT(complaint("a.off", "OFF\n4 2000000000 0\n" + off_lines), HasSubstr("2000000000 faces"));
    EXPECT_THAT(complaint("a.off", "OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1\n"),
                HasSubstr(":6: found a face of 3 corners with 2"));
    EXPECT_THAT(complaint("a.off", "OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 3\n"), HasSubstr("vertex 3"));
    EXPECT_THAT(complaint("a.off", "OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n-1 0 1 3\n"),
                HasSubstr("a face of -1 corners"));
    EXPECT_THAT(complaint("a.off", "OFF\n3 0 0\n0 0 0\n1 0 0\n0 1 0\n"), HasSubstr("no triangles"));
}

}  // namespace
}  // namespace evenspit
