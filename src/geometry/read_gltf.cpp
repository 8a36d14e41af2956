// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cstring>
#include <limits>
#include <string>
#include <tiny_gltf.h>

#include <Eigen/LU>
#include <fmt/format.h>

#include "files/whole_file.h"
#include "geometry/gltf_guard.h"
#include "geometry/line_reader.h"
#include "geometry/mesh_readers.h"
#include "units/error.h"

namespace evenspit::mesh_readers {

namespace {

// A small file may place a large mesh many times: no more triangles than the first, and no more than if each
// byte of the buffers stood in as many places as the second. From memory; a scene of one body needs one.
constexpr std::size_t most_triangles = 100'000'000;
constexpr std::size_t most_places = 100;

bool is_picture(std::string_view name) {
    const std::string_view ending = name.substr(std::min(name.rfind('.'), name.size()));
    constexpr std::array endings{".png", ".jpg",   ".jpeg", ".webp", ".ktx", ".ktx2",
                                 ".dds", ".basis", ".avif", ".gif",  ".bmp", ".tga"};
    return std::any_of(endings.begin(), endings.end(),
                       [&](std::string_view known) { return same_word(known, ending); });
}

// Where the files are that the scene names.
struct Beside {
    std::string folder;   // with a slash at its end
    std::string outside;  // the first name that leads out of it; empty for none
};

// Files that the scene names: only beside it (the library would look in the working folder as well), and no
// pictures.
tinygltf::FsCallbacks files_beside(Beside& beside) {
    tinygltf::FsCallbacks files{};
    files.user_data = &beside;
    files.FileExists = [](const std::string& path, void* user) {
        Beside& place = *static_cast<Beside*>(user);
        if (!path.starts_with(place.folder)) return false;
        const std::string name = path.substr(place.folder.size());
        if (leaves_folder(name)) {
            if (place.outside.empty()) place.outside = name;
            return false;
        }
        std::error_code error;
        return !is_picture(path) && std::filesystem::is_regular_file(path, error);
    };
    files.ExpandFilePath = [](const std::string& path, void*) { return path; };
    files.ReadWholeFile = [](std::vector<unsigned char>* bytes, std::string* error, const std::string& path,
                             void*) {
        try {
            const std::string read = read_whole_file(path);
            bytes->assign(read.begin(), read.end());
            return true;
        } catch (const InputError& failed) {
            *error = failed.what();
            return false;
        }
    };
    return files;
}

// The first line of what the library says, without the name of its exception and what a terminal would obey.
std::string first_line(std::string_view text) {
    if (text.starts_with("[json.exception.")) text.remove_prefix(std::min(text.find("] ") + 2, text.size()));
    std::string line;
    for (const char c : text.substr(0, std::min(text.find('\n'), std::size_t{200}))) {
        line += (c >= ' ' && c < 127) ? c : '?';
    }
    return line;
}

// What would read as something else than it is. A required extension changes what the numbers mean, unless it
// is about looks.
void check_kind(const Source& source, const tinygltf::Model& model) {
    const std::string& version = model.asset.version;
    if (!version.empty() && !version.starts_with("2.")) {
        refuse(source, 0, "glTF " + in_quotes(version), "glTF 2.0", "export it again");
    }
    for (const std::string& name : model.extensionsRequired) {
        constexpr std::array looks{"KHR_materials_", "KHR_texture_", "KHR_lights_", "EXT_texture_",
                                   "EXT_lights_"};
        const auto fits = [&](std::string_view prefix) { return name.starts_with(prefix); };
        if (std::any_of(looks.begin(), looks.end(), fits)) continue;
        refuse(source, 0, "the extension " + in_quotes(name), "plain glTF 2.0",
               "export it without compression or extensions");
    }
}

tinygltf::Model parse(const Source& source) {
    if (source.bytes.size() > std::numeric_limits<unsigned int>::max()) {
        refuse(source, 0, "more than 4 GB", "a glTF file");
    }
    check_gltf_bytes(source);
    Beside beside{(std::filesystem::absolute(source.path).parent_path() / "").string(), {}};
    tinygltf::TinyGLTF loader;
    loader.SetFsCallbacks(files_beside(beside));
    loader.SetImageLoader([](tinygltf::Image*, int, std::string*, std::string*, int, int,
                             const unsigned char*, int, void*) { return true; },
                          nullptr);
    tinygltf::Model model;
    std::string error, warning;
    bool loaded = false;
    const auto size = unsigned(source.bytes.size());
    try {
        if (source.bytes.starts_with("glTF")) {
            loaded = loader.LoadBinaryFromMemory(&model, &error, &warning,
                                                 reinterpret_cast<const unsigned char*>(source.bytes.data()),
                                                 size, beside.folder, tinygltf::NO_REQUIRE);
        } else {
            loaded = loader.LoadASCIIFromString(&model, &error, &warning, source.bytes.data(), size,
                                                beside.folder, tinygltf::NO_REQUIRE);
        }
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::exception& failed) {
        error = failed.what();
    }
    check_kind(source, model);
    if (!beside.outside.empty()) {
        refuse(source, 0, "a file outside the scene's folder: " + in_quotes(beside.outside),
               "files beside the scene or in a folder below it", "export it as one .glb file");
    }
    if (!loaded || !error.empty()) {
        refuse(source, 0, first_line(error), "a glTF 2.0 scene", "the file is damaged or cut short");
    }
    return model;
}

// Numbers of one kind in a buffer, found to lie within it.
struct Column {
    const unsigned char* data = nullptr;
    std::size_t count = 0;
    std::size_t stride = 0;
    int component = 0;
};

class Scene {
  public:
    explicit Scene(const Source& source) : source_(source), model_(parse(source)) {
        std::size_t bytes = 0;
        for (const tinygltf::Buffer& buffer : model_.buffers) bytes += buffer.data.size();
        // A triangle more of a strip takes an index of one byte.
        most_triangles_ = std::min(most_triangles, most_places * bytes);
    }

    Soup read() {
        if (model_.nodes.empty()) {
            for (const tinygltf::Mesh& mesh : model_.meshes) place(mesh, Eigen::Affine3d::Identity());
            return std::move(soup_);
        }
        struct Visit {
            int node;
            Eigen::Affine3d parent;
        };
        std::vector<Visit> waiting;
        for (const int root : roots()) waiting.push_back({root, Eigen::Affine3d::Identity()});
        std::vector<bool> seen(model_.nodes.size(), false);
        // Last in, first out, so that nodes come in the file's order when pushed in reverse.
        std::reverse(waiting.begin(), waiting.end());
        while (!waiting.empty()) {
            const Visit visit = waiting.back();
            waiting.pop_back();
            const auto index = std::size_t(visit.node);
            if (visit.node < 0 || index >= seen.size()) damaged(fmt::format("a node {}", visit.node));
            if (seen[index]) damaged(fmt::format("node {} in two places", index));
            seen[index] = true;
            const tinygltf::Node& node = model_.nodes[index];
            const Eigen::Affine3d pose = visit.parent * local_pose(node);
            for (auto child = node.children.rbegin(); child != node.children.rend(); ++child) {
                waiting.push_back({*child, pose});
            }
            if (node.mesh < 0) continue;
            if (std::size_t(node.mesh) >= model_.meshes.size()) damaged(fmt::format("mesh {}", node.mesh));
            if (node.skin >= 0) {
                refuse(source_, 0, fmt::format("a mesh posed by a skeleton in node {}", index),
                       "a rigid mesh", "export it as it stands");
            }
            place(model_.meshes[std::size_t(node.mesh)], pose);
        }
        return std::move(soup_);
    }

  private:
    [[noreturn]] void damaged(std::string found) const {
        refuse(source_, 0, std::move(found), "a sound glTF scene", "the file is damaged: export it again");
    }

    [[nodiscard]] std::vector<int> roots() const {
        if (!model_.scenes.empty()) {
            const int scene = std::max(model_.defaultScene, 0);
            if (std::size_t(scene) >= model_.scenes.size()) {
                damaged(fmt::format("scene {} of {}", scene, model_.scenes.size()));
            }
            return model_.scenes[std::size_t(scene)].nodes;
        }
        std::vector<bool> is_child(model_.nodes.size(), false);
        for (const tinygltf::Node& node : model_.nodes) {
            for (const int child : node.children) {
                if (child >= 0 && std::size_t(child) < is_child.size()) is_child[std::size_t(child)] = true;
            }
        }
        std::vector<int> found;
        for (std::size_t i = 0; i < is_child.size(); ++i) {
            if (!is_child[i]) found.push_back(int(i));
        }
        return found;
    }

    [[nodiscard]] Eigen::Affine3d local_pose(const tinygltf::Node& node) const {
        Eigen::Affine3d pose = Eigen::Affine3d::Identity();
        const auto has = [&](const std::vector<double>& values, std::size_t n) {
            if (!values.empty() && values.size() != n) {
                damaged(fmt::format("{} numbers in a node's transform, where {} are due", values.size(), n));
            }
            return !values.empty();
        };
        if (has(node.matrix, 16)) {
            pose.matrix() = Eigen::Map<const Eigen::Matrix4d>(node.matrix.data());
            pose.makeAffine();
            return pose;
        }
        if (has(node.translation, 3)) pose.translate(Eigen::Map<const Vec3>(node.translation.data()));
        if (has(node.rotation, 4)) {
            const Eigen::Quaterniond turn(node.rotation[3], node.rotation[0], node.rotation[1],
                                          node.rotation[2]);
            if (!(turn.norm() > 0)) damaged("a node's rotation of no length");
            pose.rotate(turn.normalized());
        }
        if (has(node.scale, 3)) pose.scale(Eigen::Map<const Vec3>(node.scale.data()));
        return pose;
    }

    [[nodiscard]] Column column(int index, int type, const char* what) const {
        if (index < 0 || std::size_t(index) >= model_.accessors.size()) {
            damaged(fmt::format("accessor {} for {}", index, what));
        }
        const tinygltf::Accessor& accessor = model_.accessors[std::size_t(index)];
        if (accessor.sparse.isSparse) {
            refuse(source_, 0, fmt::format("sparse {}", what), "whole ones",
                   "export it without sparse accessors");
        }
        if (accessor.type != type) damaged(fmt::format("{} of another type", what));
        if (accessor.bufferView < 0 || std::size_t(accessor.bufferView) >= model_.bufferViews.size()) {
            damaged(fmt::format("{} without data", what));
        }
        const tinygltf::BufferView& view = model_.bufferViews[std::size_t(accessor.bufferView)];
        if (view.buffer < 0 || std::size_t(view.buffer) >= model_.buffers.size()) {
            damaged(fmt::format("{} without data", what));
        }
        const std::vector<unsigned char>& buffer = model_.buffers[std::size_t(view.buffer)].data;

        // An unknown kind of component has a negative size, which no buffer holds.
        const auto element =
            std::size_t(tinygltf::GetComponentSizeInBytes(std::uint32_t(accessor.componentType))) *
            std::size_t(tinygltf::GetNumComponentsInType(std::uint32_t(accessor.type)));
        const std::size_t stride = view.byteStride == 0 ? element : view.byteStride;
        const bool view_fits =
            view.byteOffset <= buffer.size() && view.byteLength <= buffer.size() - view.byteOffset;
        const bool fits =
            view_fits && stride >= element && accessor.byteOffset <= view.byteLength &&
            (accessor.count == 0 ||
             (element <= view.byteLength - accessor.byteOffset &&
              accessor.count - 1 <= (view.byteLength - accessor.byteOffset - element) / stride));
        if (!fits) damaged(fmt::format("{} {} where the data end before", accessor.count, what));
        if (accessor.count > std::size_t(std::numeric_limits<std::int32_t>::max())) {
            damaged(fmt::format("{} {}", accessor.count, what));
        }
        return {accessor.count == 0 ? nullptr : buffer.data() + view.byteOffset + accessor.byteOffset,
                accessor.count, stride, accessor.componentType};
    }

    // The vertex numbers of a primitive in order, not yet made triangles.
    [[nodiscard]] std::vector<std::int32_t> indices(const tinygltf::Primitive& primitive,
                                                    std::size_t vertex_count) const {
        std::vector<std::int32_t> list;
        if (primitive.indices < 0) {
            list.resize(vertex_count);
            for (std::size_t i = 0; i < vertex_count; ++i) list[i] = std::int32_t(i);
            return list;
        }
        const Column numbers = column(primitive.indices, TINYGLTF_TYPE_SCALAR, "indices");
        list.reserve(numbers.count);
        for (std::size_t i = 0; i < numbers.count; ++i) {
            const unsigned char* at = numbers.data + i * numbers.stride;
            std::uint32_t index = 0;
            switch (numbers.component) {
                case TINYGLTF_COMPONENT_TYPE_UNSIGNED_BYTE:
                    index = *at;
                    break;
                case TINYGLTF_COMPONENT_TYPE_UNSIGNED_SHORT: {
                    std::uint16_t half;
                    std::memcpy(&half, at, sizeof half);
                    index = half;
                    break;
                }
                case TINYGLTF_COMPONENT_TYPE_UNSIGNED_INT:
                    std::memcpy(&index, at, sizeof index);
                    break;
                default:
                    damaged("indices that are no whole numbers");
            }
            if (index >= vertex_count) {
                damaged(fmt::format("a triangle with vertex {} of {}", index, vertex_count));
            }
            list.push_back(std::int32_t(index));
        }
        return list;
    }

    void place(const tinygltf::Mesh& mesh, const Eigen::Affine3d& pose) {
        if (std::any_of(mesh.weights.begin(), mesh.weights.end(),
                        [](double weight) { return weight != 0; })) {
            refuse(source_, 0, "a mesh bent by morph targets", "a rigid mesh", "export it as it stands");
        }
        for (const tinygltf::Primitive& primitive : mesh.primitives) place(primitive, pose);
    }

    void place(const tinygltf::Primitive& primitive, const Eigen::Affine3d& pose) {
        const bool loose = primitive.mode == TINYGLTF_MODE_TRIANGLES;
        const bool strip = primitive.mode == TINYGLTF_MODE_TRIANGLE_STRIP;
        const bool fan = primitive.mode == TINYGLTF_MODE_TRIANGLE_FAN;
        const bool cloud = primitive.mode == TINYGLTF_MODE_POINTS;
        if (!loose && !strip && !fan && !cloud) return;  // lines bound nothing
        const auto position = primitive.attributes.find("POSITION");
        if (position == primitive.attributes.end()) return;
        const Column places = column(position->second, TINYGLTF_TYPE_VEC3, "positions");
        if (places.component != TINYGLTF_COMPONENT_TYPE_FLOAT) {
            damaged("positions that are no floating-point numbers");
        }

        const std::vector<std::int32_t> list =
            cloud ? std::vector<std::int32_t>{} : indices(primitive, places.count);
        if (loose && list.size() % 3 != 0) damaged(fmt::format("{} indices for triangles", list.size()));
        const std::size_t count = loose ? list.size() / 3 : std::max<std::size_t>(list.size(), 2) - 2;
        if (soup_.triangles.size() + count > most_triangles_ ||
            soup_.points.size() + places.count > 3 * most_triangles_) {
            refuse(source_, 0, fmt::format("more than {} triangles", most_triangles_), "fewer",
                   "thin the mesh out in a mesh tool");
        }

        const auto first = std::int32_t(soup_.points.size());
        for (std::size_t i = 0; i < places.count; ++i) {
            float at[3];
            std::memcpy(at, places.data + i * places.stride, sizeof at);
            soup_.points.push_back(pose * Vec3(at[0], at[1], at[2]));
        }
        // A mirrored node turns its triangles over.
        const bool mirrored = pose.linear().determinant() < 0;
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t at = loose ? 3 * i : i;
            Triangle triangle{list[fan ? 0 : at], list[at + 1], list[at + 2]};
            if (mirrored != (strip && i % 2 == 1)) std::swap(triangle[1], triangle[2]);
            for (std::int32_t& corner : triangle) corner += first;
            soup_.triangles.push_back(triangle);
        }
    }

    const Source& source_;
    tinygltf::Model model_;
    std::size_t most_triangles_ = 0;
    Soup soup_;
};

}  // namespace

Soup read_gltf(const Source& source) {
    return Scene(source).read();
}

}  // namespace evenspit::mesh_readers
