// SPDX-License-Identifier: MIT
#include "geometry/mesh_io.h"

#include <cmath>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "files.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "shapes.h"
#include "units/error.h"

namespace evenspit {
namespace {

using test::base64;
using test::bytes_of;
using ::testing::AllOf;
using ::testing::HasSubstr;

using Points = std::vector<Vec3>;
using Triangles = std::vector<Triangle>;

const Points corner_points{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
const Triangles corner_triangles{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};

class MeshIo : public test::FolderTest {
  protected:
    // What the complaint says; fails if there is none.
    std::string complaint(const std::filesystem::path& path) const {
        try {
            read_mesh(path);
        } catch (const InputError& error) {
            EXPECT_THAT(error.what(), HasSubstr(path.string()));
            return std::string(error.what()).substr(path.string().size());
        }
        ADD_FAILURE() << "no complaint about " << path;
        return "";
    }
    std::string complaint(const std::string& name, std::string_view bytes) const {
        return complaint(put(name, bytes));
    }
    MeshFile read(const std::string& name, std::string_view bytes) const {
        return read_mesh(put(name, bytes));
    }

    static void expect_corner(const MeshFile& file) {
        EXPECT_EQ(file.mesh.vertices, corner_points);
        EXPECT_EQ(file.mesh.triangles, corner_triangles);
    }
};

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

// --- PLY

const std::string ply_header =
    "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\nproperty float z\n";
const std::string ply_faces = "element face 4\nproperty list uchar int vertex_indices\nend_header\n";
const std::string ply_vertex_lines = "0 0 0\n1 0 0\n0 1 0\n0 0 1\n";
const std::string ply_face_lines = "3 0 2 1\n3 0 1 3\n3 1 2 3\n3 2 0 3\n";

TEST_F(MeshIo, PlyText) {
    expect_corner(read("a.ply", ply_header + ply_faces + ply_vertex_lines + ply_face_lines));
}

TEST_F(MeshIo, PlyLineEndings) {
    for (const std::string end : {"\r\n", "\r"}) {
        std::string text = ply_header;
        text.append(ply_faces).append(ply_vertex_lines).append(ply_face_lines);
        for (std::size_t at = 0; (at = text.find('\n', at)) != text.npos; at += end.size())
            text.replace(at, 1, end);
        expect_corner(read("a.ply", text));
    }
}

TEST_F(MeshIo, PlyWithMoreThanItNeeds) {
    const MeshFile file =
        read("a.ply",
             "ply\nformat ascii 1.0\ncomment made by hand\nobj_info none\n"
             "element camera 1\nproperty list uchar float view\nproperty float distance\n"
             "element vertex 4\nproperty uchar red\nproperty double x\nproperty double y\nproperty list "
             "uchar int parents\n"
             "property double z\nelement face 4\nproperty uchar red\nproperty list uchar uint vertex_index\n"
             "property list uchar float texcoord\nelement edge 0\nproperty int a\nend_header\n"
             "2 0.5 0.5 7\n"
             "9 0 0 0 0\n9 1 0 2 5 6 0\n9 0 1 0 0\n9 0 0 1 3 1\n"
             "1 3 0 2 1 0\n1 3 0 1 3 2 0.1 0.2\n1 3 1 2 3 0\n1 3 2 0 3 0\n");
    expect_corner(file);
}

TEST_F(MeshIo, PlyFacesBeforeVertices) {
    expect_corner(read(
        "a.ply",
        "ply\nformat ascii 1.0\nelement face 4\nproperty list uchar int vertex_indices\nelement vertex 4\n"
        "property float x\nproperty float y\nproperty float z\nend_header\n" +
            ply_face_lines + ply_vertex_lines));
}

TEST_F(MeshIo, PlyBinaryBothWays) {
    for (const bool big : {false, true}) {
        std::string bytes =
            std::string("ply\nformat binary_") + (big ? "big" : "little") +
            "_endian 1.0\nelement vertex 4\nproperty float x\nproperty double y\nproperty short z\n"
            "element face 4\nproperty list ushort uint vertex_indices\nproperty char region\nend_header\n";
        for (const Vec3& p : corner_points) {
            bytes +=
                bytes_of({float(p.x())}, big) + bytes_of({p.y()}, big) + bytes_of({std::int16_t(p.z())}, big);
        }
        for (const Triangle& t : corner_triangles) {
            bytes += bytes_of({std::uint16_t(3)}, big);
            for (const std::int32_t v : t) bytes += bytes_of({std::uint32_t(v)}, big);
            bytes += bytes_of({std::int8_t(-t[0])}, big);
        }
        const MeshFile file = read("a.ply", bytes);
        expect_corner(file);
        EXPECT_EQ(file.regions, (std::vector<std::int32_t>{0, 0, -1, -2}));
    }
}

TEST_F(MeshIo, PlySplitsPolygons) {
    const MeshFile file =
        read("a.ply",
             "ply\nformat ascii 1.0\nelement vertex 5\nproperty float x\nproperty float y\nproperty float z\n"
             "element face 3\nproperty list uchar int vertex_indices\nproperty int region\nend_header\n"
             "0 0 0\n1 0 0\n2 1 0\n1 2 0\n0 1 0\n5 0 1 2 3 4 8\n2 0 1 9\n3 0 1 2 7\n");
    EXPECT_EQ(file.mesh.triangles, (Triangles{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}, {0, 1, 2}}));
    EXPECT_EQ(file.regions, (std::vector<std::int32_t>{8, 8, 8, 7}));
}

TEST_F(MeshIo, PlyTellsWhatIsOpenOfTheCentre) {
    Mat3 covariance;
    covariance << 1.25e-6, 1e-7, -3e-7, 1e-7, 0.1e-6, 1.0 / 3e6, -3e-7, 1.0 / 3e6, 4e-6;
    const TriangleMesh box = test::box_mesh({0, 0, 0}, {1, 2, 3});
    const auto centre_covariance = [&](const std::vector<std::string>& comments) {
        return read("a.ply", labelled_ply(box, {}, comments)).centre_covariance;
    };
    EXPECT_EQ(centre_covariance({"metres", centre_covariance_comment(covariance)}), covariance)
        << "to the last bit";
    EXPECT_EQ(centre_covariance({"metres", "centre of it all", "centre"}), std::nullopt);
    const auto told = [&](const std::string& comment) {
        return complaint("a.ply", labelled_ply(box, {}, {comment}));
    };
    EXPECT_THAT(told("centre covariance 1 2 3"),
                AllOf(HasSubstr(":3:"), HasSubstr("of 3 numbers"), HasSubstr("take the line out")));
    EXPECT_THAT(told("centre covariance 1 0 0 one 0 1"), HasSubstr("'one'"));
    EXPECT_THAT(told("centre covariance 1 0 0 1 0 nan"), HasSubstr("no spread has"));
    EXPECT_THAT(told("centre covariance 1 2 0 1 0 1"), HasSubstr("no spread has"));
}

TEST_F(MeshIo, PlyComplaints) {
    EXPECT_THAT(complaint("a.ply", "OFF\n"), AllOf(HasSubstr(":1: found 'OFF'"), HasSubstr("'ply'")));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\n"), HasSubstr("end of the file"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii_ 1.0\nend_header\n"), HasSubstr("'ascii_'"));
    EXPECT_THAT(complaint("a.ply", "ply\nelement vertex 4\nend_header\n"), HasSubstr("no format"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nend_header\n"), HasSubstr("no element 'vertex'"));
    EXPECT_THAT(complaint("a.ply", ply_header + "end_header\n" + ply_vertex_lines),
                AllOf(HasSubstr("no element 'face'"), HasSubstr("points alone")));
    EXPECT_THAT(
        complaint("a.ply", ply_header +
                               "element tristrips 1\nproperty list int int vertex_indices\nend_header\n" +
                               ply_vertex_lines),
        HasSubstr("strips"));
    EXPECT_THAT(complaint("a.ply", ply_header + "element face 4\nproperty int a\nend_header\n"),
                HasSubstr("without a list"));
    EXPECT_THAT(
        complaint("a.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\n" +
                               ply_faces),
        HasSubstr("plain property 'z'"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty quad x\n"),
                HasSubstr(":4: found 'quad'"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty list float int x\n"),
                HasSubstr("whole numbers"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nproperty float x\n"), HasSubstr("'property'"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nelement vertex -4\n"),
                HasSubstr("-4 of 'vertex'"));
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nelement vertex four\n"), HasSubstr("'four'"));
    EXPECT_THAT(
        complaint("a.ply", ply_header + ply_faces + "0 0 0\n1 0,5 0\n0 1 0\n0 0 1\n" + ply_face_lines),
        AllOf(HasSubstr(":11: found '0,5'"), HasSubstr("point")));
    EXPECT_THAT(complaint("a.ply", ply_header + ply_faces + "0 0 0\n1 0\n0 1 0\n0 0 1\n" + ply_face_lines),
                HasSubstr(":11: found 2 values"));
    EXPECT_THAT(
        complaint("a.ply", ply_header + ply_faces + "0 0 0 9\n1 0 0\n0 1 0\n0 0 1\n" + ply_face_lines),
        HasSubstr(":10: found 4 values"));
    EXPECT_THAT(complaint("a.ply",
                          ply_header + ply_faces + ply_vertex_lines + "3 0 2 1\n3 0 1 4\n3 1 2 3\n3 2 0 3\n"),
                HasSubstr(":15: found vertex 4; expected 0 to 3"));
    EXPECT_THAT(complaint("a.ply", ply_header + ply_faces + ply_vertex_lines +
                                       "3 0 2 -1\n3 0 1 3\n3 1 2 3\n3 2 0 3\n"),
                HasSubstr("vertex -1"));
    EXPECT_THAT(complaint("a.ply",
                          ply_header + ply_faces + ply_vertex_lines + "9 0 2 1\n3 0 1 3\n3 1 2 3\n3 2 0 3\n"),
                HasSubstr("a list of 9"));
    EXPECT_THAT(
        complaint("a.ply", ply_header + ply_faces + ply_vertex_lines + "1e300 0 2 1\n" + ply_face_lines),
        HasSubstr("a list of 1e+300"));
    EXPECT_THAT(
        complaint("a.ply", ply_header + ply_faces + ply_vertex_lines + "nan 0 2 1\n" + ply_face_lines),
        HasSubstr("a list of nan"));
    EXPECT_THAT(complaint("a.ply", ply_header + ply_faces + ply_vertex_lines + "3 0 2 1\n"),
                HasSubstr("face 2 of 4"));
    EXPECT_THAT(
        complaint("a.ply", ply_header +
                               "element face 0\nproperty list uchar int vertex_indices\nend_header\n" +
                               ply_vertex_lines),
        HasSubstr("no triangles"));
}

TEST_F(MeshIo, PlyHugeCounts) {
    const std::string end =
        "property float x\nproperty float y\nproperty float z\nelement face 2000000000\nproperty list uint "
        "int vertex_indices\nend_header\n";
    for (const char* coding : {"ascii", "binary_little_endian", "binary_big_endian"}) {
        EXPECT_THAT(complaint("a.ply", fmt::format("ply\nformat {} 1.0\nelement vertex 2000000000\n{}0 0 0\n",
                                                   coding, end)),
                    HasSubstr("2000000000 times 'vertex'"));
        EXPECT_THAT(
            complaint("a.ply", fmt::format("ply\nformat {} 1.0\nelement vertex 0\n{}0 0 0\n", coding, end)),
            HasSubstr("2000000000 times 'face'"));
    }
    EXPECT_THAT(complaint("a.ply", "ply\nformat ascii 1.0\nelement vertex 99999999999999999999\n"),
                HasSubstr("'99999999999999999999'"));
    // A list that claims 4 billion corners.
    EXPECT_THAT(complaint("a.ply",
                          "ply\nformat binary_little_endian 1.0\nelement vertex 1\nproperty char x\nproperty "
                          "char y\nproperty char z\n"
                          "element face 1\nproperty list uint int vertex_indices\nend_header\n" +
                              std::string(3, '\0') + bytes_of({0xffffffffu, 0u, 0u, 0u})),
                HasSubstr("a list of 4294967295 values in face 1"));
}

// --- STL

const std::string facet =
    "facet normal 0 0 -1\nouter loop\nvertex 0 0 0\nvertex 0 1 0\nvertex 1 0 0\nendloop\nendfacet\n";

std::string binary_stl(std::string header, const Triangles& triangles) {
    header.resize(80, ' ');
    std::string bytes = header + bytes_of({std::uint32_t(triangles.size())});
    for (const Triangle& t : triangles) {
        bytes += bytes_of({0.0f, 0.0f, 0.0f});
        for (const std::int32_t v : t) {
            for (const double x : corner_points[std::size_t(v)]) bytes += bytes_of({float(x)});
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

// --- glTF

// A scene: buffer, JSON of everything but the buffer. Positions first, then indices of one byte each.
struct GltfScene {
    std::string buffer;
    std::string views =
        R"({"buffer":0,"byteOffset":0,"byteLength":48},{"buffer":0,"byteOffset":48,"byteLength":12})";
    std::string accessors = R"({"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"},)"
                            R"({"bufferView":1,"componentType":5121,"count":12,"type":"SCALAR"})";
    std::string meshes = R"({"primitives":[{"attributes":{"POSITION":0},"indices":1}]})";
    std::string nodes = R"({"mesh":0})";
    std::string rest = R"("scene":0,"scenes":[{"nodes":[0]}])";

    GltfScene() {
        for (const Vec3& p : corner_points) {
            for (const double x : p) buffer += bytes_of({float(x)});
        }
        for (const Triangle& t : corner_triangles) {
            for (const std::int32_t v : t) buffer += bytes_of({std::uint8_t(v)});
        }
    }
    [[nodiscard]] std::string json(const std::string& uri) const {
        return fmt::format(
            R"({{"asset":{{"version":"2.0"}},"buffers":[{{{}"byteLength":{}}}],"bufferViews":[{}],"accessors":[{}],)"
            R"("meshes":[{}],"nodes":[{}],{}}})",
            uri.empty() ? "" : R"("uri":")" + uri + R"(",)", buffer.size(), views, accessors, meshes, nodes,
            rest);
    }
    [[nodiscard]] std::string text() const {
        return json("data:application/octet-stream;base64," + base64(buffer));
    }
    [[nodiscard]] std::string binary() const {
        std::string scene = json(""), data = buffer;
        scene.resize((scene.size() + 3) / 4 * 4, ' ');
        data.resize((data.size() + 3) / 4 * 4, '\0');
        return "glTF" +
               bytes_of({std::uint32_t(2), std::uint32_t(28 + scene.size() + data.size()),
                         std::uint32_t(scene.size())}) +
               "JSON" + scene + bytes_of({std::uint32_t(data.size())}) + std::string("BIN\0", 4) + data;
    }
};

TEST_F(MeshIo, GltfText) {
    const MeshFile file = read("a.gltf", GltfScene().text());
    expect_corner(file);
    EXPECT_EQ(file.metres_per_unit, 1.0);
}

TEST_F(MeshIo, GltfBinary) {
    const MeshFile file = read("a.glb", GltfScene().binary());
    expect_corner(file);
    EXPECT_EQ(file.metres_per_unit, 1.0);
}

TEST_F(MeshIo, GltfWithAFileBesideIt) {
    const GltfScene scene;
    put("the data.bin", scene.buffer);
    expect_corner(read("a.gltf", scene.json("the%20data.bin")));
    EXPECT_THAT(complaint("b.gltf", scene.json("none.bin")), HasSubstr("none.bin"));
    put("short.bin", scene.buffer.substr(1));
    EXPECT_THAT(complaint("c.gltf", scene.json("short.bin")), HasSubstr("short.bin"));
}

TEST_F(MeshIo, GltfIndexKinds) {
    for (const int component : {5121, 5123, 5125}) {
        GltfScene scene;
        scene.buffer.resize(48);
        for (const Triangle& t : corner_triangles) {
            for (const std::int32_t v : t) {
                scene.buffer += component == 5121   ? bytes_of({std::uint8_t(v)})
                                : component == 5123 ? bytes_of({std::uint16_t(v)})
                                                    : bytes_of({std::uint32_t(v)});
            }
        }
        scene.views =
            fmt::format(R"({{"buffer":0,"byteLength":48}},{{"buffer":0,"byteOffset":48,"byteLength":{}}})",
                        scene.buffer.size() - 48);
        scene.accessors = fmt::format(R"({{"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"}},)"
                                      R"({{"bufferView":1,"componentType":{},"count":12,"type":"SCALAR"}})",
                                      component);
        expect_corner(read("a.glb", scene.binary()));
    }
}

TEST_F(MeshIo, GltfWithoutIndices) {
    GltfScene scene;
    scene.buffer.clear();
    for (const Triangle& t : corner_triangles) {
        for (const std::int32_t v : t) {
            for (const double x : corner_points[std::size_t(v)]) scene.buffer += bytes_of({float(x)});
        }
    }
    scene.views = R"({"buffer":0,"byteLength":144})";
    scene.accessors = R"({"bufferView":0,"componentType":5126,"count":12,"type":"VEC3"})";
    scene.meshes = R"({"primitives":[{"attributes":{"POSITION":0}}]})";
    const MeshFile file = read("a.glb", scene.binary());
    EXPECT_EQ(file.welded, 8u);
    EXPECT_TRUE(check_solid(file.mesh).ok());
    EXPECT_NEAR(volume_moments(file.mesh).amount, 1.0 / 6, 1e-15);
}

TEST_F(MeshIo, GltfStridedPositions) {
    GltfScene scene;
    std::string strided;
    for (std::size_t v = 0; v < 4; ++v) strided += scene.buffer.substr(12 * v, 12) + "normalnormal";
    scene.buffer = "pad!" + strided + scene.buffer.substr(48);
    scene.views =
        R"({"buffer":0,"byteOffset":0,"byteLength":100,"byteStride":24},{"buffer":0,"byteOffset":100,"byteLength":12})";
    scene.accessors = R"({"bufferView":0,"byteOffset":4,"componentType":5126,"count":4,"type":"VEC3"},)"
                      R"({"bufferView":1,"componentType":5121,"count":12,"type":"SCALAR"})";
    expect_corner(read("a.glb", scene.binary()));
}

TEST_F(MeshIo, GltfStripAndFan) {
    GltfScene scene;
    scene.buffer.resize(48);
    scene.buffer += bytes_of<std::uint8_t>({0, 2, 1, 3, 0, 2, 0, 0, 0, 0, 0, 0});
    scene.accessors = R"({"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"},)"
                      R"({"bufferView":1,"componentType":5121,"count":6,"type":"SCALAR"})";
    scene.meshes = R"({"primitives":[{"attributes":{"POSITION":0},"indices":1,"mode":5}]})";
    const MeshFile strip = read("a.glb", scene.binary());
    EXPECT_EQ(strip.mesh.triangles, (Triangles{{0, 2, 1}, {2, 3, 1}, {1, 3, 0}, {3, 2, 0}}));
    EXPECT_TRUE(check_solid(strip.mesh).ok()) << check_solid(strip.mesh).found;

    scene.buffer.resize(48);
    scene.buffer += bytes_of<std::uint8_t>({3, 0, 1, 2, 0, 0, 0, 0, 0, 0, 0, 0});
    scene.accessors = R"({"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"},)"
                      R"({"bufferView":1,"componentType":5121,"count":5,"type":"SCALAR"})";
    scene.meshes = R"({"primitives":[{"attributes":{"POSITION":0},"indices":1,"mode":6}]})";
    EXPECT_EQ(read("a.glb", scene.binary()).mesh.triangles, (Triangles{{3, 0, 1}, {3, 1, 2}, {3, 2, 0}}));
}

TEST_F(MeshIo, GltfNodesPlaceTheirMeshes) {
    GltfScene scene;
    // Turned a quarter about z (x → y), twice as large, shifted; below it a mirrored copy and one moved by a
    // matrix.
    scene.nodes =
        R"({"mesh":0,"translation":[10,0,0],"rotation":[0,0,0.7071067811865476,0.7071067811865476],"scale":[2,2,2],"children":[1,2]},)"
        R"({"mesh":0,"scale":[-1,1,1],"translation":[0,0,5]},)"
        R"({"mesh":0,"matrix":[1,0,0,0, 0,1,0,0, 0,0,1,0, 0,0,-7,1]},)"
        R"({"mesh":0,"translation":[99,0,0]})";
    const MeshFile file = read("a.glb", scene.binary());
    ASSERT_EQ(file.mesh.vertices.size(), 12u) << "the last node is not in the scene";
    EXPECT_TRUE(file.mesh.vertices[1].isApprox(Vec3(10, 2, 0), 1e-15)) << file.mesh.vertices[1].transpose();
    EXPECT_TRUE(file.mesh.vertices[2].isApprox(Vec3(8, 0, 0), 1e-15));
    EXPECT_TRUE(file.mesh.vertices[5].isApprox(Vec3(10, -2, 10), 1e-15)) << file.mesh.vertices[5].transpose();
    EXPECT_TRUE(file.mesh.vertices[11].isApprox(Vec3(10, 0, -12), 1e-15))
        << file.mesh.vertices[11].transpose();
    EXPECT_TRUE(check_solid(file.mesh).ok()) << "the mirrored copy is turned right side out";
    EXPECT_NEAR(volume_moments(file.mesh).amount, 3 * 8.0 / 6, 1e-14);
}

TEST_F(MeshIo, GltfWithoutScenes) {
    GltfScene scene;
    scene.rest = R"("extras":{})";
    scene.nodes = R"({"mesh":0},{"translation":[5,0,0],"children":[0]})";
    const MeshFile file = read("a.glb", scene.binary());
    ASSERT_EQ(file.mesh.vertices.size(), 4u);
    EXPECT_EQ(file.mesh.vertices[0], Vec3(5, 0, 0));
    scene.nodes = "";
    expect_corner(read("b.glb", scene.binary()));
}

TEST_F(MeshIo, GltfPicturesAreLeftAlone) {
    GltfScene scene;
    put("huge.png", "no picture at all");
    scene.rest +=
        R"(,"images":[{"uri":"huge.png"},{"uri":"none.jpg"},{"bufferView":0,"mimeType":"image/png"},{"uri":"data:image/png;base64,AAAA"}],)"
        R"("textures":[{"source":0}],"materials":[{"pbrMetallicRoughness":{"baseColorTexture":{"index":0}}}],)"
        R"("extensionsUsed":["KHR_materials_unlit"],"extensionsRequired":["KHR_materials_unlit"])";
    expect_corner(read("a.gltf", scene.text()));
}

TEST_F(MeshIo, GltfLinesAndPointsAreNoSurface) {
    GltfScene scene;
    scene.meshes =
        R"({"primitives":[{"attributes":{"POSITION":0},"indices":1},{"attributes":{"POSITION":0},"mode":0},{"attributes":{"POSITION":0},"mode":1}]})";
    expect_corner(read("a.glb", scene.binary()));
    scene.meshes = R"({"primitives":[{"attributes":{"POSITION":0},"mode":0}]})";
    EXPECT_THAT(complaint("b.glb", scene.binary()), HasSubstr("no triangles"));
}

TEST_F(MeshIo, GltfComplaints) {
    const auto told = [&](auto&& change) {
        GltfScene scene;
        change(scene);
        return complaint("a.glb", scene.binary());
    };
    const std::string positions = R"({"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"})";
    const std::string indices = R"({"bufferView":1,"componentType":5121,"count":12,"type":"SCALAR"})";
    EXPECT_THAT(told([](auto& s) { s.rest += R"(,"extensionsRequired":["KHR_draco_mesh_compression"])"; }),
                HasSubstr("KHR_draco_mesh_compression"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        R"({"bufferView":0,"componentType":5126,"count":4,"type":"VEC3","sparse":{"count":1,)"
                        R"("indices":{"bufferView":1,"componentType":5121},"values":{"bufferView":0}}},)" +
                        indices;
                }),
                HasSubstr("sparse positions"));
    EXPECT_THAT(
        told([&](auto& s) { s.accessors = R"({"componentType":5126,"count":4,"type":"VEC3"},)" + indices; }),
        HasSubstr("positions without data"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        R"({"bufferView":0,"componentType":5123,"count":4,"type":"VEC3"},)" + indices;
                }),
                HasSubstr("no floating-point"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        R"({"bufferView":0,"componentType":5126,"count":4,"type":"VEC2"},)" + indices;
                }),
                HasSubstr("another type"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        R"({"bufferView":0,"componentType":5126,"count":5,"type":"VEC3"},)" + indices;
                }),
                HasSubstr("5 positions where the data end before"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        R"({"bufferView":0,"componentType":5126,"count":4000000000000,"type":"VEC3"},)" +
                        indices;
                }),
                HasSubstr("4000000000000 positions"));
    EXPECT_THAT(
        told([&](auto& s) {
            s.accessors =
                R"({"bufferView":0,"byteOffset":18446744073709551600,"componentType":5126,"count":4,"type":"VEC3"},)" +
                indices;
        }),
        HasSubstr("where the data end before"));
    EXPECT_THAT(
        told([](auto& s) {
            s.views =
                R"({"buffer":0,"byteOffset":44,"byteLength":48},{"buffer":0,"byteOffset":48,"byteLength":12})";
        }),
        HasSubstr("where the data end before"));
    EXPECT_THAT(told([](auto& s) {
                    s.views = R"({"buffer":7,"byteLength":48},{"buffer":0,"byteOffset":48,"byteLength":12})";
                }),
                HasSubstr("positions without data"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        positions + R"(,{"bufferView":1,"componentType":5126,"count":3,"type":"SCALAR"})";
                }),
                HasSubstr("no whole numbers"));
    EXPECT_THAT(told([&](auto& s) {
                    s.accessors =
                        positions + R"(,{"bufferView":1,"componentType":5121,"count":11,"type":"SCALAR"})";
                }),
                HasSubstr("11 indices for triangles"));
    EXPECT_THAT(told([](auto& s) { s.buffer[50] = 4; }), HasSubstr("a triangle with vertex 4 of 4"));
    EXPECT_THAT(told([](auto& s) { s.meshes = R"({"primitives":[{"attributes":{"POSITION":9}}]})"; }),
                HasSubstr("accessor 9"));
    EXPECT_THAT(told([](auto& s) { s.nodes = R"({"mesh":3})"; }), HasSubstr("mesh 3"));
    EXPECT_THAT(told([](auto& s) { s.nodes = R"({"mesh":0,"children":[5]})"; }), HasSubstr("a node 5"));
    EXPECT_THAT(told([](auto& s) { s.nodes = R"({"mesh":0,"children":[0]})"; }),
                HasSubstr("node 0 in two places"));
    EXPECT_THAT(told([](auto& s) { s.nodes = R"({"mesh":0,"translation":[1,2]})"; }), HasSubstr("2 numbers"));
    EXPECT_THAT(told([](auto& s) { s.nodes = R"({"mesh":0,"rotation":[0,0,0,0]})"; }), HasSubstr("rotation"));
    EXPECT_THAT(told([](auto& s) { s.nodes = R"({"mesh":0,"skin":0})"; }), HasSubstr("skeleton"));
    EXPECT_THAT(told([](auto& s) { s.rest = R"("scene":4,"scenes":[{"nodes":[0]}])"; }),
                HasSubstr("scene 4 of 1"));
    EXPECT_THAT(told([](auto& s) {
                    s.meshes =
                        R"({"weights":[0.5],"primitives":[{"attributes":{"POSITION":0},"indices":1}]})";
                }),
                HasSubstr("morph"));
    EXPECT_THAT(complaint("a.gltf", "{\"asset\":"), HasSubstr("found parse error at line 1, column"));
    EXPECT_NE(complaint("a.gltf", "[]"), "");
    EXPECT_THAT(complaint("a.gltf", R"({"asset":{"version":"2.0"}})"), HasSubstr("no triangles"));
    EXPECT_THAT(complaint("a.gltf", R"({"asset":{"version":"1.1"}})"),
                HasSubstr("glTF '1.1'; expected glTF 2.0"));
}

// A mesh placed a thousand times in a small file must not fill the memory.
TEST_F(MeshIo, GltfPlacedTooOften) {
    GltfScene scene;
    const std::size_t count = 3'000'000;
    scene.buffer.resize(48 + count, '\0');
    scene.views = fmt::format(
        R"({{"buffer":0,"byteLength":48}},{{"buffer":0,"byteOffset":48,"byteLength":{}}})", count);
    scene.accessors = fmt::format(R"({{"bufferView":0,"componentType":5126,"count":4,"type":"VEC3"}},)"
                                  R"({{"bufferView":1,"componentType":5121,"count":{},"type":"SCALAR"}})",
                                  count);
    scene.meshes = R"({"primitives":[)";
    for (int i = 0; i < 200; ++i) {
        scene.meshes += fmt::format(R"({}{{"attributes":{{"POSITION":0}},"indices":1}})", i == 0 ? "" : ",");
    }
    scene.meshes += "]}";
    EXPECT_THAT(complaint("a.glb", scene.binary()), HasSubstr("more than 100000000 triangles"));
}

TEST_F(MeshIo, GlbTruncatedOrDamagedAnyhow) {
    const std::string whole = GltfScene().binary();
    const auto path = folder / "a.glb";
    for (std::size_t size = 0; size < whole.size(); ++size) {
        EXPECT_NE(complaint("a.glb", whole.substr(0, size)), "") << size;
    }
    std::mt19937 random{7};
    for (int i = 0; i < 500; ++i) {
        std::string damaged = whole;
        for (unsigned k = 0; k <= random() % 3; ++k) {
            const std::size_t at = random() % damaged.size();
            damaged[at] = random() % 3 == 0 ? char(random()) : "0123456789-e.{}[]\","[random() % 19];
        }
        put("a.glb", damaged);
        try {
            EXPECT_NE(check_solid(read_mesh(path).mesh).fault, SolidFault::bad_index);
        } catch (const InputError&) {
        }
    }
}

}  // namespace
}  // namespace evenspit
