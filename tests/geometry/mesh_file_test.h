// SPDX-License-Identifier: MIT
// For tests of read_mesh(): a corner of a cube cut off as the mesh that each format spells, and what a
// complaint says.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>

#include "files.h"
#include "geometry/mesh_io.h"
#include "units/error.h"

namespace evenspit::test {

using Points = std::vector<Vec3>;
using Triangles = std::vector<Triangle>;

inline const Points corner_points{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
inline const Triangles corner_triangles{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};

class MeshFileTest : public FolderTest {
  protected:
    // What the complaint says; fails if there is none.
    std::string complaint(const std::filesystem::path& path) const {
        try {
            read_mesh(path);
        } catch (const InputError& error) {
            EXPECT_THAT(error.what(), ::testing::HasSubstr(path.string()));
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

}  // namespace evenspit::test
