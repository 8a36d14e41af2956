// SPDX-License-Identifier: MIT
#include <cmath>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "files.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "mesh_file_test.h"
#include "shapes.h"

namespace evenspit {
namespace {

using test::bytes_of;
using test::corner_points;
using test::corner_triangles;
using test::Points;
using test::Triangles;
using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

using ReadPly = test::MeshFileTest;

const std::string ply_header =
    "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\nproperty float z\n";
const std::string ply_faces = "element face 4\nproperty list uchar int vertex_indices\nend_header\n";
const std::string ply_vertex_lines = "0 0 0\n1 0 0\n0 1 0\n0 0 1\n";
const std::string ply_face_lines = "3 0 2 1\n3 0 1 3\n3 1 2 3\n3 2 0 3\n";

TEST_F(ReadPly, Text) {
    expect_corner(read("a.ply", ply_header + ply_faces + ply_vertex_lines + ply_face_lines));
}

TEST_F(ReadPly, LineEndings) {
    for (const std::string end : {"\r\n", "\r"}) {
        std::string text = ply_header;
        text.append(ply_faces).append(ply_vertex_lines).append(ply_face_lines);
        for (std::size_t at = 0; (at = text.find('\n', at)) != text.npos; at += end.size())
            text.replace(at, 1, end);
        expect_corner(read("a.ply", text));
    }
}

TEST_F(ReadPly, WithMoreThanItNeeds) {
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

TEST_F(ReadPly, FacesBeforeVertices) {
    expect_corner(read(
        "a.ply",
        "ply\nformat ascii 1.0\nelement face 4\nproperty list uchar int vertex_indices\nelement vertex 4\n"
        "property float x\nproperty float y\nproperty float z\nend_header\n" +
            ply_face_lines + ply_vertex_lines));
}

TEST_F(ReadPly, BinaryBothWays) {
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

TEST_F(ReadPly, SplitsPolygons) {
    const MeshFile file =
        read("a.ply",
             "ply\nformat ascii 1.0\nelement vertex 5\nproperty float x\nproperty float y\nproperty float z\n"
             "element face 3\nproperty list uchar int vertex_indices\nproperty int region\nend_header\n"
             "0 0 0\n1 0 0\n2 1 0\n1 2 0\n0 1 0\n5 0 1 2 3 4 8\n2 0 1 9\n3 0 1 2 7\n");
    EXPECT_EQ(file.mesh.triangles, (Triangles{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}, {0, 1, 2}}));
    EXPECT_EQ(file.regions, (std::vector<std::int32_t>{8, 8, 8, 7}));
}

TEST_F(ReadPly, TellsWhatIsOpenOfTheCentre) {
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

TEST_F(ReadPly, TellsOfScaleOfBirdAndOfWhatNobodySaw) {
    const TriangleMesh box = test::box_mesh({0, 0, 0}, {1, 2, 3});
    std::vector<float> unseen(box.triangles.size(), 0.F);
    unseen[3] = 1.F / 3;
    unseen.back() = 1;
    const MeshFile file =
        read("a.ply", labelled_ply(box, {}, {scale_sigma_comment(0.00412), bird_comment("turkey")}, unseen));
    EXPECT_EQ(file.scale_sigma, 0.00412) << "to the last bit";
    EXPECT_EQ(file.bird, "turkey");
    EXPECT_EQ(file.unseen, unseen);
    const MeshFile plain = read("a.ply", labelled_ply(box, {}, {"bird of some kind", "scale 3"}));
    EXPECT_EQ(plain.scale_sigma, std::nullopt);
    EXPECT_EQ(plain.bird, "");
    EXPECT_TRUE(plain.unseen.empty());
    for (const char* wrong : {"scale sigma 1.5", "scale sigma -0.1", "scale sigma nan"})
        EXPECT_THAT(complaint("a.ply", labelled_ply(box, {}, {wrong})), HasSubstr("no share is")) << wrong;
    // Whatever else goes by that name is held to a share.
    unseen.assign(unseen.size(), 7);
    unseen[0] = std::nanf("");
    const std::vector<float> held = read("a.ply", labelled_ply(box, {}, {}, unseen)).unseen;
    EXPECT_EQ(held[0], 0);
    EXPECT_EQ(held[1], 1);
}

TEST_F(ReadPly, TellsTheNamesOfRegions) {
    const TriangleMesh box = test::box_mesh({0, 0, 0}, {1, 2, 3});
    const std::vector<std::uint8_t> regions(box.triangles.size(), 2);
    const auto names = [&](const std::vector<std::string>& comments) {
        return read("a.ply", labelled_ply(box, regions, comments)).region_names;
    };
    EXPECT_THAT(names({"metres"}), IsEmpty());
    EXPECT_THAT(names({region_comment(2, "cavity wall"), region_comment(0, "skin")}),
                ElementsAre("skin", "", "cavity wall"));
    // What other programs say of regions is no name.
    EXPECT_THAT(names({"region", "region of interest", "region 1", "region 256 far", "region -1 none",
                       "region 99999999999999999999 far", "region 1x odd"}),
                IsEmpty());
}

TEST_F(ReadPly, Complaints) {
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

TEST_F(ReadPly, HugeCounts) {
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

TEST_F(ReadPly, NamesInComplaintsAreHarmless) {
    const std::string evil = "\x1b[2Jgone";
    for (const char* coding : {"ascii", "binary_little_endian"}) {
        const std::string said = complaint(
            "a.ply",
            std::string("ply\nformat ") + coding + " 1.0\nelement " + evil +
                " 2\nproperty list uchar float w\nelement vertex 0\nproperty float x\nproperty float "
                "y\nproperty float z\nelement face 0\nproperty list uchar int "
                "vertex_indices\nend_header\n1 1\n");
        EXPECT_THAT(said, HasSubstr("?[2Jgone"));
        EXPECT_EQ(said.find('\x1b'), said.npos);
    }
}

TEST_F(ReadPly, CovarianceTooLargeToReckonWith) {
    EXPECT_THAT(complaint("a.ply", "ply\ncomment centre covariance 1e308 1e308 1e308 1e308 1e308 1e308\n" +
                                       ply_header.substr(4) + ply_faces + ply_vertex_lines + ply_face_lines),
                HasSubstr("no spread has"));
}

}  // namespace
}  // namespace evenspit
