// SPDX-License-Identifier: MIT
// The face of libevenspit_scan_library.so, which the program opens when it meets the first raw scan. Plain
// arrays and numbers: no exception, and nothing of a C++ library, crosses it. Lengths are metres, places are
// three numbers each.
#pragma once

#include <cstddef>
#include <cstdint>

namespace evenspit::scan::library {

/// Goes up whenever anything in this file changes: a module of another number is not used.
inline constexpr int api_version = 1;

/// The one name that the module exports: a function that takes nothing and returns its `Functions`.
inline constexpr const char* entry_name = "evenspit_scan_library";

/// Why a function could not do its work, with a zero at the end; cut off where it is too long.
struct Failure {
    char words[256];
};

/// Places and the unit normals there; the caller's.
struct Cloud {
    const double* places;   ///< 3 × size
    const double* normals;  ///< 3 × size
    std::size_t size;
};

/// A mesh of the module's own, which release_mesh() gives back.
struct Mesh {
    const double* corners;          ///< 3 × corner_count
    const std::int32_t* triangles;  ///< 3 × triangle_count, indices of corners
    std::size_t corner_count, triangle_count;
    void* owner;
};

/// Some steps of iterated closest points.
struct ClosestPointSteps {
    double width;  ///< distance at which a pair counts a quarter, m: Geman and McClure's weight 1/(1 +
                   ///< d²/width²)²
    double reach;  ///< pairs further apart count nothing, m
    int most;      ///< how many steps; fewer once neither pairs nor distance change
};

/// Who is asked between steps whether the work shall go on.
struct Asked {
    bool (*go_on)(void* who);
    void* who;
};

struct Functions {
    int version;  ///< first in every version

    /// Screened Poisson reconstruction of oriented places, on one thread: the same bits every time.
    ///
    /// \param depth of the octree; its box, `scale` times as large as that of the places, is 2^depth cells
    /// wide \return whether it could; else `failure` tells why, and `mesh` is as it was
    bool (*reconstruct)(const Cloud* cloud, int depth, double scale, Mesh* mesh, Failure* failure);
    void (*release_mesh)(Mesh* mesh);

    /// Iterated closest points, point to plane (Y. Chen, G. Medioni, Image Vis. Comput. 10(3):145–155, 1992),
    /// on one thread: the same bits every time.
    ///
    /// \param pose 4 × 4, column by column: frame of `moved` → frame of `onto`, improved
    /// \return whether it came to its end; else `failure` tells why, and `pose` is as it was
    bool (*closest_points)(const Cloud* moved, const Cloud* onto, const ClosestPointSteps* steps,
                           std::size_t step_count, const Asked* asked, double* pose, Failure* failure);
};

}  // namespace evenspit::scan::library
