// SPDX-License-Identifier: MIT
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "files.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "mesh_file_test.h"

namespace evenspit {
namespace {

using test::base64;
using test::bytes_of;
using test::corner_points;
using test::corner_triangles;
using test::Triangles;
using ::testing::AllOf;
using ::testing::HasSubstr;

using ReadGltf = test::MeshFileTest;

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

TEST_F(ReadGltf, Text) {
    const MeshFile file = read("a.gltf", GltfScene().text());
    expect_corner(file);
    EXPECT_EQ(file.metres_per_unit, 1.0);
}

TEST_F(ReadGltf, Binary) {
    const MeshFile file = read("a.glb", GltfScene().binary());
    expect_corner(file);
    EXPECT_EQ(file.metres_per_unit, 1.0);
}

TEST_F(ReadGltf, WithAFileBesideIt) {
    const GltfScene scene;
    put("the data.bin", scene.buffer);
    expect_corner(read("a.gltf", scene.json("the%20data.bin")));
    EXPECT_THAT(complaint("b.gltf", scene.json("none.bin")), HasSubstr("none.bin"));
    put("short.bin", scene.buffer.substr(1));
    EXPECT_THAT(complaint("c.gltf", scene.json("short.bin")), HasSubstr("short.bin"));
}

TEST_F(ReadGltf, IndexKinds) {
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

TEST_F(ReadGltf, WithoutIndices) {
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

TEST_F(ReadGltf, StridedPositions) {
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

TEST_F(ReadGltf, StripAndFan) {
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

TEST_F(ReadGltf, NodesPlaceTheirMeshes) {
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

TEST_F(ReadGltf, WithoutScenes) {
    GltfScene scene;
    scene.rest = R"("extras":{})";
    scene.nodes = R"({"mesh":0},{"translation":[5,0,0],"children":[0]})";
    const MeshFile file = read("a.glb", scene.binary());
    ASSERT_EQ(file.mesh.vertices.size(), 4u);
    EXPECT_EQ(file.mesh.vertices[0], Vec3(5, 0, 0));
    scene.nodes = "";
    expect_corner(read("b.glb", scene.binary()));
}

TEST_F(ReadGltf, PicturesAreLeftAlone) {
    GltfScene scene;
    put("huge.png", "no picture at all");
    scene.rest +=
        R"(,"images":[{"uri":"huge.png"},{"uri":"none.jpg"},{"bufferView":0,"mimeType":"image/png"},{"uri":"data:image/png;base64,AAAA"}],)"
        R"("textures":[{"source":0}],"materials":[{"pbrMetallicRoughness":{"baseColorTexture":{"index":0}}}],)"
        R"("extensionsUsed":["KHR_materials_unlit"],"extensionsRequired":["KHR_materials_unlit"])";
    expect_corner(read("a.gltf", scene.text()));
}

TEST_F(ReadGltf, LinesAndPointsAreNoSurface) {
    GltfScene scene;
    scene.meshes =
        R"({"primitives":[{"attributes":{"POSITION":0},"indices":1},{"attributes":{"POSITION":0},"mode":0},{"attributes":{"POSITION":0},"mode":1}]})";
    expect_corner(read("a.glb", scene.binary()));
    scene.meshes = R"({"primitives":[{"attributes":{"POSITION":0},"mode":0}]})";
    EXPECT_THAT(complaint("b.glb", scene.binary()), HasSubstr("no triangles"));
}

TEST_F(ReadGltf, Complaints) {
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
TEST_F(ReadGltf, PlacedTooOften) {
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

TEST_F(ReadGltf, GlbTruncatedOrDamagedAnyhow) {
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

// Reading calls itself for each bracket inside another; without a bound the stack runs over.
TEST_F(ReadGltf, NestedTooDeep) {
    const auto nested = [](std::size_t depth) {
        GltfScene scene;
        scene.rest += R"(,"extras":)" + std::string(depth, '[') + std::string(depth, ']');
        return scene;
    };
    expect_corner(read("a.gltf", nested(90).text()));
    expect_corner(read("a.glb", nested(90).binary()));
    EXPECT_THAT(complaint("b.gltf", "\n\n" + nested(20'000).text()),
                AllOf(HasSubstr(":3"), HasSubstr("brackets 101 deep"), HasSubstr("at most 100")));
    EXPECT_THAT(complaint("b.glb", nested(20'000).binary()), HasSubstr("brackets 101 deep"));
    // Brackets in a text are letters.
    GltfScene named;
    named.rest += R"(,"extras":"\")" + std::string(20'000, '[') + R"(\\")";
    expect_corner(read("a.gltf", named.text()));
}

TEST_F(ReadGltf, FilesOutsideItsFolderAreRefused) {
    const GltfScene scene;
    std::filesystem::create_directories(folder / "scene" / "parts");
    put("a.bin", scene.buffer);
    put("scene/parts/a.bin", scene.buffer);
    expect_corner(read("scene/a.gltf", scene.json("parts/a.bin")));
    for (const std::string& uri : {std::string("../a.bin"), std::string("parts/../../a.bin"),
                                   std::string("%2e%2e/a.bin"), (folder / "a.bin").string()}) {
        EXPECT_THAT(complaint("scene/a.gltf", scene.json(uri)),
                    AllOf(HasSubstr("a.bin'"), HasSubstr("outside"), HasSubstr("beside")))
            << uri;
    }
    GltfScene with_picture;
    for (const char* uri : {"../skin.png", "/skin.png", "../skin"}) {
        with_picture.rest =
            fmt::format(R"("scene":0,"scenes":[{{"nodes":[0]}}],"images":[{{"uri":"{}"}}])", uri);
        EXPECT_THAT(complaint("scene/b.gltf", with_picture.text()), HasSubstr("outside")) << uri;
    }
}

// The length of a chunk does not count its own eight bytes.
TEST_F(ReadGltf, ChunkThatRunsPastTheEnd) {
    GltfScene scene;
    scene.buffer.resize(60);
    std::string bytes = scene.binary();
    const std::size_t length_at = bytes.size() - scene.buffer.size() - 8;
    bytes.replace(length_at, 4, bytes_of({std::uint32_t(68)}));
    scene.buffer.resize(68);
    const std::string longer = scene.json("");
    ASSERT_EQ(longer.size(), GltfScene().json("").size());
    bytes.replace(20, longer.size(), longer);
    EXPECT_THAT(complaint("a.glb", bytes), AllOf(HasSubstr("68 bytes"), HasSubstr("60")));
}

TEST_F(ReadGltf, PlacedMoreThanTheFileBears) {
    GltfScene scene;
    scene.meshes = R"({"primitives":[)";
    for (int i = 0; i < 2000; ++i) {
        scene.meshes += fmt::format(R"({}{{"attributes":{{"POSITION":0}},"indices":1}})", i == 0 ? "" : ",");
    }
    scene.meshes += "]}";
    EXPECT_THAT(complaint("a.glb", scene.binary()), HasSubstr("more than 6000 triangles"));
}

}  // namespace
}  // namespace evenspit
