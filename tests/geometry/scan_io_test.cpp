// SPDX-License-Identifier: MIT
#include "geometry/scan_io.h"

#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "files.h"
#include "geometry/mesh_io.h"
#include "units/error.h"

namespace evenspit {
namespace {

using test::bytes_of;
using ::testing::AllOf;
using ::testing::HasSubstr;

using Points = std::vector<Vec3>;

const Points three_points{{0, 0, 0}, {1, 0, 0}, {0, 2, 0.5}};
const Points three_normals{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}};

class ScanIo : public test::FolderTest {
  protected:
    ScanFile read(const std::string& name, std::string_view bytes) const {
        return read_scan_file(put(name, bytes));
    }
    // What the complaint says behind the file's name; fails if there is none.
    std::string complaint(const std::string& name, std::string_view bytes) const {
        const std::filesystem::path path = put(name, bytes);
        try {
            read_scan_file(path);
        } catch (const InputError& error) {
            EXPECT_THAT(error.what(), HasSubstr(path.string()));
            return std::string(error.what()).substr(path.string().size());
        }
        ADD_FAILURE() << "no complaint about " << path;
        return "";
    }
};

// --- any format

TEST_F(ScanIo, UnknownEndingsAndEmptyFiles) {
    EXPECT_THAT(complaint("a.las", "LASF"), AllOf(HasSubstr("'.las'"), HasSubstr(".pcd")));
    EXPECT_THAT(complaint("a", "0 0 0"), HasSubstr("without ending"));
    for (const char* name :
         {"a.ply", "a.stl", "a.obj", "a.off", "a.gltf", "a.glb", "a.pcd", "a.xyz", "a.csv", "a.pts"})
        EXPECT_THAT(complaint(name, ""), HasSubstr("an empty file")) << name;
}

TEST(ScanNames, AreThoseOfTheFormatsThatAreRead) {
    for (const char* name : {"a.ply", "folder/a.GLB", "a.pwn", "a.CSV", "a.xyzrgb"})
        EXPECT_TRUE(is_scan_name(name)) << name;
    for (const char* name : {"a.las", "csv", "a", "a.csv.zip"}) EXPECT_FALSE(is_scan_name(name)) << name;
    EXPECT_TRUE(is_mesh_name("a.Stl"));
    EXPECT_FALSE(is_mesh_name("a.csv")) << "points alone";
}

TEST_F(ScanIo, Gibberish) {
    std::mt19937 random{7};
    std::string noise;
    for (int i = 0; i < 5000; ++i) noise += char(random());
    for (const char* name : {"a.ply", "a.stl", "a.off", "a.gltf", "a.glb", "a.pcd", "a.xyz", "a.xyzn",
                             "a.txt", "a.pwn", "a.pts"})
        EXPECT_NE(complaint(name, noise), "") << name;
}

TEST_F(ScanIo, MeshFormatsAreReadAsMeshes) {
    const ScanFile file = read("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n");
    EXPECT_EQ(file.mesh.triangles, (std::vector<Triangle>{{0, 1, 2}}));
    EXPECT_FALSE(file.metres_per_unit);
    EXPECT_TRUE(file.normals.empty());
}

TEST_F(ScanIo, MeshFormatsWithoutFacesAreClouds) {
    EXPECT_EQ(read("a.obj", "v 0 0 0\nv 1 0 0\nv 0 2 0.5\n").mesh.vertices, three_points);
    EXPECT_EQ(read("a.off", "OFF\n3 0 0\n0 0 0\n1 0 0\n0 2 0.5\n").mesh.vertices, three_points);
    EXPECT_EQ(read("a.ply",
                   "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
                   "property float z\nend_header\n0 0 0\n1 0 0\n0 2 0.5\n")
                  .mesh.vertices,
              three_points);
}

TEST_F(ScanIo, PlyNormalsAreKeptForClouds) {
    const std::string header =
        "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\n"
        "property uchar red\nproperty float nx\nproperty float ny\nproperty float nz\nend_header\n";
    EXPECT_EQ(read("a.ply", header + "0 0 0 9 0 0 2\n1 0 0 9 0 1 0\n0 2 0.5 9 -1 0 0\n").normals,
              three_normals);
    // One that has no length makes all of them worthless.
    EXPECT_TRUE(read("a.ply", header + "0 0 0 9 0 0 0\n1 0 0 9 0 1 0\n0 2 0.5 9 -1 0 0\n").normals.empty());
}

TEST_F(ScanIo, PointsThatAreNowhereAreLeftOut) {
    const ScanFile cloud = read("a.xyz", "0 0 0\nnan 0 0\n1 0 0\n0 inf 0\n0 2 0.5\n");
    EXPECT_EQ(cloud.mesh.vertices, three_points);
    EXPECT_EQ(cloud.not_finite, 2u);
    // With the triangles at them.
    const ScanFile mesh = read("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nv nan 0 0\nf 1 2 3\nf 1 2 4\n");
    EXPECT_EQ(mesh.mesh.triangles.size(), 1u);
    EXPECT_EQ(mesh.not_finite, 1u);
    EXPECT_THAT(complaint("b.xyz", "nan 0 0\n0 nan 0\n"),
                HasSubstr("no point with three finite coordinates"));
}

// --- lines of numbers

TEST_F(ScanIo, Xyz) {
    const ScanFile file = read("a.xyz", "# x y z\n0 0 0\r\n\n1 0 0 # here\n0 2 0.5\n");
    EXPECT_EQ(file.mesh.vertices, three_points);
    EXPECT_TRUE(file.mesh.triangles.empty());
    EXPECT_TRUE(file.normals.empty());
    EXPECT_FALSE(file.metres_per_unit);
}

TEST_F(ScanIo, XyzWithNormals) {
    for (const char* name : {"a.xyz", "a.xyzn", "a.txt", "a.pwn"}) {
        const ScanFile file = read(name, "0 0 0 0 0 1\n1 0 0 0 1 0\n0 2 0.5 -1 0 0\n");
        EXPECT_EQ(file.mesh.vertices, three_points);
        EXPECT_EQ(file.normals, three_normals);
    }
}

TEST_F(ScanIo, XyzWithColoursHasNoNormals) {
    const ScanFile file = read("a.xyz", "0 0 0 255 0 0\n1 0 0 0 1 0\n0 2 0.5 0 0 1\n");
    EXPECT_EQ(file.mesh.vertices, three_points);
    EXPECT_TRUE(file.normals.empty());
}

TEST_F(ScanIo, XyzCountsArePassedOver) {
    EXPECT_EQ(read("a.xyz", "3\n0 0 0\n1 0 0\n0 2 0.5\n").mesh.vertices, three_points);
}

TEST_F(ScanIo, XyzWithCommasOrSemicolons) {
    for (const char* text :
         {"0,0,0\n1,0,0\n0,2,0.5\n", "0;0;0\n1;0;0\n0;2;0.5\n", "0, 0, 0\n1, 0, 0\n0, 2, 0.5\n",
          "0; 0; 0;\n1; 0; 0;\n0; 2; 0.5;\n", "0,0,0,255\n1,0,0,255\n0,2,0.5,255,\n"}) {
        for (const char* name : {"a.xyz", "a.csv", "a.asc", "a.txt", "a.xyzrgb"}) {
            EXPECT_EQ(read(name, text).mesh.vertices, three_points) << text;
        }
    }
    EXPECT_EQ(read("a.csv", "0,0,0,0,0,1\n1,0,0,0,1,0\n0,2,0.5,-1,0,0\n").normals, three_normals);
}

TEST_F(ScanIo, XyzWithDecimalCommasIsRefused) {
    for (const char* text : {"0,5 1,5 2,5\n", "0,5;1,5;2,5\n", "0 0 0,5\n"}) {
        EXPECT_THAT(complaint("a.xyz", text), AllOf(HasSubstr(",5'"), HasSubstr("decimals with a point")))
            << text;
    }
    EXPECT_THAT(complaint("a.xyz", "0,,1\n"), HasSubstr("''"));
}

TEST_F(ScanIo, XyzHeadingIsPassedOver) {
    const std::string points = "0 0 0 7\n1 0 0 7\n0 2 0.5 7\n";
    for (const char* heading : {"x y z intensity\n", "//X Y Z R\n", "X,Y,Z,I\n", "\"x\",\"y\",\"z\"\n",
                                "\xEF\xBB\xBFX;Y;Z\n", "\xEF\xBB\xBF", "// made by hand\n3\n"}) {
        EXPECT_EQ(read("a.asc", heading + points).mesh.vertices, three_points) << heading;
    }
    EXPECT_THAT(complaint("a.csv", "id,x,y,z\n1,0,0,0\n"), AllOf(HasSubstr(":1"), HasSubstr("'id'")));
    EXPECT_THAT(complaint("a.xyz", "0 0 0\nx y z\n"), AllOf(HasSubstr(":2"), HasSubstr("'x'")));
}

TEST_F(ScanIo, XyzFaultsTellTheLine) {
    EXPECT_THAT(complaint("a.xyz", "0 0 0\n1 2\n"), AllOf(HasSubstr(":2"), HasSubstr("at least three")));
    EXPECT_THAT(complaint("a.xyz", "0 0 0\n1 two 3\n"), AllOf(HasSubstr(":2"), HasSubstr("'two'")));
    EXPECT_THAT(complaint("a.xyz", "points\n"), HasSubstr("'points'"));
    EXPECT_THAT(complaint("a.xyz", "# nothing\n"), HasSubstr("no points"));
}

TEST_F(ScanIo, Pts) {
    const ScanFile file = read("a.pts", "3\n0 0 0 100 255 0 0\n1 0 0 100 255 0 0\n0 2 0.5 100 255 0 0\n");
    EXPECT_EQ(file.mesh.vertices, three_points);
    EXPECT_TRUE(file.normals.empty());
}

TEST_F(ScanIo, PtsWithoutACountOrWithSeveral) {
    EXPECT_EQ(read("a.pts", "0 0 0 9\n1 0 0 9\n0 2 0.5 9\n").mesh.vertices, three_points);
    EXPECT_EQ(read("a.pts", "2\n0 0 0\n1 0 0\n1\n0 2 0.5\n").mesh.vertices, three_points);
}

TEST_F(ScanIo, PtsFaults) {
    EXPECT_THAT(complaint("a.pts", "0 0\n"), AllOf(HasSubstr(":1"), HasSubstr("at least 3")));
    EXPECT_THAT(complaint("a.pts", "1\n0 0 0\n1 0 0\n"), AllOf(HasSubstr(":3"), HasSubstr("a point more")));
    EXPECT_THAT(complaint("a.pts", "3\n0 0 0\n1 0 0\n"), HasSubstr("point 3 of 3"));
    EXPECT_THAT(complaint("a.pts", "9000000000\n0 0 0\n"), HasSubstr("9000000000 points"));
    EXPECT_THAT(complaint("a.pts", "-3\n0 0 0\n"), HasSubstr("-3 points"));
    // Each count by itself could be true of such a file, not all together.
    std::string counts;
    for (int k = 0; k < 100; ++k) counts += "50\n";
    EXPECT_THAT(complaint("a.pts", counts + "0 0 0\n"),
                AllOf(HasSubstr(":2"), HasSubstr("50 points after 50")));
    EXPECT_THAT(complaint("a.pts", "0\n"), HasSubstr("no points"));
}

// --- glTF

TEST_F(ScanIo, GltfOfPoints) {
    // Mode 0, points; its node doubles all lengths.
    std::string buffer;
    for (const Vec3& p : three_points) {
        for (const double x : p) buffer += bytes_of({float(x / 2)});
    }
    put("points.bin", buffer);
    const ScanFile file =
        read("a.gltf", R"({"asset":{"version":"2.0"},"buffers":[{"uri":"points.bin","byteLength":36}],)"
                       R"("bufferViews":[{"buffer":0,"byteLength":36}],)"
                       R"("accessors":[{"bufferView":0,"componentType":5126,"count":3,"type":"VEC3"}],)"
                       R"("meshes":[{"primitives":[{"mode":0,"attributes":{"POSITION":0}}]}],)"
                       R"("nodes":[{"mesh":0,"scale":[2,2,2]}],"scene":0,"scenes":[{"nodes":[0]}]})");
    EXPECT_EQ(file.mesh.vertices, three_points);
    EXPECT_TRUE(file.mesh.triangles.empty());
    EXPECT_EQ(file.metres_per_unit, 1.0);
}

// --- PCD

const std::string pcd_header =
    "# .PCD v0.7\nVERSION 0.7\nFIELDS x y z rgb normal_x normal_y normal_z\nSIZE 4 4 8 1 4 4 4\n"
    "TYPE F F F U F F F\nCOUNT 1 1 1 3 1 1 1\nWIDTH 3\nHEIGHT 1\nVIEWPOINT 0 0 0 1 0 0 0\nPOINTS 3\n";

std::string pcd_point(const Vec3& p, const Vec3& n) {
    return bytes_of({float(p.x()), float(p.y())}) + bytes_of({p.z()}) + "rgb" +
           bytes_of({float(n.x()), float(n.y()), float(n.z())});
}

TEST_F(ScanIo, PcdText) {
    const ScanFile file = read("a.pcd", pcd_header +
                                            "DATA ascii\n0 0 0 1 2 3 0 0 1\n1 0 0 1 2 3 0 1 0\n"
                                            "0 2 0.5 1 2 3 -1 0 0\n");
    EXPECT_EQ(file.mesh.vertices, three_points);
    EXPECT_EQ(file.normals, three_normals);
}

TEST_F(ScanIo, PcdBinary) {
    std::string bytes = pcd_header + "DATA binary\n";
    for (std::size_t p = 0; p < 3; ++p) bytes += pcd_point(three_points[p], three_normals[p]);
    const ScanFile file = read("a.pcd", bytes);
    EXPECT_EQ(file.mesh.vertices, three_points);
    EXPECT_EQ(file.normals, three_normals);
}

TEST_F(ScanIo, PcdIntegersOfAnySize) {
    const std::string header =
        "FIELDS z a x y\nSIZE 1 2 2 8\nTYPE I U U I\nCOUNT 1 1 1 1\nWIDTH 2\nHEIGHT 1\nPOINTS 2\nDATA "
        "binary\n";
    const std::string bytes = bytes_of<std::int8_t>({-5}) + bytes_of<std::uint16_t>({1, 65535}) +
                              bytes_of<std::int64_t>({-7}) + bytes_of<std::int8_t>({5}) +
                              bytes_of<std::uint16_t>({1, 2}) + bytes_of<std::int64_t>({7});
    EXPECT_EQ(read("a.pcd", header + bytes).mesh.vertices, (Points{{65535, -7, -5}, {2, 7, 5}}));
}

// Packs as a run of literals, then one copy of what stands at the front.
std::string packed(const std::string& bytes, std::size_t repeated) {
    std::string out;
    for (std::size_t at = 0; at < bytes.size() - repeated; at += 32) {
        const std::string piece = bytes.substr(at, std::min<std::size_t>(32, bytes.size() - repeated - at));
        out += char(piece.size() - 1) + piece;
    }
    if (repeated == 0) return out;
    const std::size_t back = bytes.size() - repeated - 1;  // all the way to the front
    out += char(7 << 5 | back >> 8);
    out += char(repeated - 2 - 7);
    out += char(back & 255);
    return out;
}

std::string pcd_packed(const std::string& bytes, std::size_t repeated) {
    const std::string inside = packed(bytes, repeated);
    return bytes_of<std::uint32_t>({std::uint32_t(inside.size()), std::uint32_t(bytes.size())}) + inside;
}

const std::string small_header =
    "FIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nWIDTH 3\nHEIGHT 1\nPOINTS 3\nDATA binary_compressed\n";

TEST_F(ScanIo, PcdCompressed) {
    // Field by field; z repeats x.
    const std::string fields =
        bytes_of<float>({0, 1, 2}) + bytes_of<float>({3, 4, 5}) + bytes_of<float>({0, 1, 2});
    for (const std::size_t repeated : {0u, 12u}) {
        EXPECT_EQ(read("a.pcd", small_header + pcd_packed(fields, repeated)).mesh.vertices,
                  (Points{{0, 3, 0}, {1, 4, 1}, {2, 5, 2}}));
    }
}

TEST_F(ScanIo, PcdCompressedDamage) {
    const std::string fields = bytes_of<float>({0, 1, 2, 3, 4, 5, 0, 1, 2});
    const std::string whole = small_header + pcd_packed(fields, 12);
    for (std::size_t cut = small_header.size(); cut < whole.size(); ++cut)
        EXPECT_NE(complaint("a.pcd", whole.substr(0, cut)), "") << cut;
    const auto sizes = [](std::uint32_t inside, std::uint32_t full) { return bytes_of({inside, full}); };
    // Copies from before the front; bytes that unpack to too many or too few.
    EXPECT_THAT(complaint("a.pcd", small_header + sizes(3, 36) + "\xe0\x30\x05"),
                HasSubstr("cannot be unpacked"));
    EXPECT_THAT(complaint("a.pcd", small_header + sizes(4, 36) + "\x02xyz"), HasSubstr("cannot be unpacked"));
    EXPECT_THAT(complaint("a.pcd", small_header + sizes(4, 35) + "\x02xyz"), HasSubstr("packed in"));
}

TEST_F(ScanIo, PcdFaults) {
    const auto header = [](const std::string& fields, const std::string& size, const std::string& type,
                           const std::string& points, const std::string& data) {
        return "FIELDS " + fields + "\nSIZE " + size + "\nTYPE " + type + "\nPOINTS " + points + "\nDATA " +
               data + "\n";
    };
    EXPECT_THAT(complaint("a.pcd", header("x y", "4 4", "F F", "1", "ascii") + "0 0\n"),
                HasSubstr("field 'z'"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4", "F F F", "1", "ascii")),
                HasSubstr("one for each of 3"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 3", "F F F", "1", "ascii")), HasSubstr("of 3 bytes"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F Q", "1", "ascii")),
                HasSubstr("of type 'Q'"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F F", "1", "zipped")), HasSubstr("'zipped'"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F F", "-1", "ascii")), HasSubstr("-1"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F F", "2000000000", "ascii") + "0 0 0\n"),
                HasSubstr("2000000000 points"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F F", "2000000000", "binary") + "0 0 0\n"),
                HasSubstr("2000000000 points"));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F F", "2", "ascii") + "0 0 0\n0 0\n"),
                AllOf(HasSubstr(":7"), HasSubstr("2 values")));
    EXPECT_THAT(complaint("a.pcd", header("x y z", "4 4 4", "F F F", "2", "ascii") + "0 0 0\n"),
                HasSubstr("point 2 of 2"));
    EXPECT_THAT(complaint("a.pcd", "FIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nDATA ascii\n"),
                HasSubstr("no number of points"));
    EXPECT_THAT(
        complaint("a.pcd", "FIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 9999\nPOINTS 1\nDATA ascii\n"),
        HasSubstr("of 9999 values"));
    EXPECT_THAT(complaint("a.pcd", "FIELDS x y z\nHELLO 4 4 4\n"), HasSubstr("'HELLO'"));
    EXPECT_THAT(complaint("a.pcd", "FIELDS x y z\n"), HasSubstr("DATA"));
}

// 2^29 points of 2^35 bytes are 2^64 bytes, which in 64 bits is none at all.
TEST_F(ScanIo, PcdSizesThatWrapRound) {
    constexpr int filler = (1 << 20) - 1;
    std::string names = "FIELDS x y z b c", sizes = "SIZE 4 4 4 4 4", types = "TYPE F F F F F",
                counts = "COUNT 1 1 1 4096 4093";
    for (int k = 0; k < filler; ++k) {
        names += " a";
        sizes += " 8";
        types += " F";
        counts += " 4096";
    }
    const std::string bytes = names + '\n' + sizes + '\n' + types + '\n' + counts +
                              "\nWIDTH 32768\nHEIGHT 16384\nDATA binary_compressed\n" + std::string(8, '\0');
    EXPECT_THAT(complaint("a.pcd", bytes), HasSubstr("536870912 points"));
}

TEST_F(ScanIo, PcdFloatsOfOneByteAreRefused) {
    EXPECT_THAT(complaint("a.pcd", "FIELDS x y z\nSIZE 1 1 1\nTYPE F F F\nPOINTS 2\nDATA binary\nabcdef"),
                AllOf(HasSubstr("'x'"), HasSubstr("1 byte"), HasSubstr("4 or 8")));
    EXPECT_THAT(complaint("a.pcd",
                          "FIELDS x y z normal_x normal_y normal_z\nSIZE 1 1 1 2 2 2\nTYPE I I I F F F\n"
                          "POINTS 1\nDATA binary\nabcdefghi"),
                AllOf(HasSubstr("'normal_x'"), HasSubstr("2 bytes")));
}

// Files with a few bytes changed are read or refused, and nothing else (sanitizers watch).
TEST_F(ScanIo, DamagedFilesAreReadOrRefused) {
    std::string binary = pcd_header + "DATA binary\n";
    for (std::size_t p = 0; p < 3; ++p) binary += pcd_point(three_points[p], three_normals[p]);
    const std::vector<std::pair<const char*, std::string>> files{
        {"a.pcd", binary},
        {"b.pcd", small_header + pcd_packed(bytes_of<float>({0, 1, 2, 3, 4, 5, 0, 1, 2}), 12)},
        {"a.pts", "3\n0 0 0\n1 0 0\n0 2 0.5\n"},
        {"a.xyz", "0 0 0 0 0 1\n1 0 0 0 1 0\n0 2 0.5 -1 0 0\n"}};
    std::mt19937 random{11};
    int read_well = 0, refused = 0;
    for (const auto& [name, whole] : files) {
        for (int k = 0; k < 400; ++k) {
            std::string bytes = whole;
            for (int change = 0; change <= k % 3; ++change) bytes[random() % bytes.size()] = char(random());
            try {
                EXPECT_FALSE(read(name, bytes).mesh.vertices.empty());
                ++read_well;
            } catch (const InputError&) {
                ++refused;
            }
        }
    }
    EXPECT_GT(read_well, 100);
    EXPECT_GT(refused, 100);
}

}  // namespace
}  // namespace evenspit
