// SPDX-License-Identifier: MIT
// What the scan room has Open3D do. Only this file includes it, and only the module made of it links it:
// opening Open3D takes longer than most verbs do.
#include <algorithm>
#include <cstring>
#include <exception>
#include <memory>
#include <open3d/geometry/PointCloud.h>
#include <open3d/geometry/TriangleMesh.h>
#include <open3d/pipelines/registration/Registration.h>
#include <open3d/pipelines/registration/RobustKernel.h>
#include <open3d/pipelines/registration/TransformationEstimation.h>
#include <open3d/utility/Logging.h>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "scan/library/scan_library_api.h"

// Of GCC's OpenMP, which Open3D runs on; its header is not where every compiler looks.
extern "C" void omp_set_num_threads(int);

namespace evenspit::scan::library {

namespace {

namespace geometry = open3d::geometry;
namespace registration = open3d::pipelines::registration;

void tell(Failure& failure, std::string_view words) {
    const std::size_t length = std::min(words.size(), sizeof failure.words - 1);
    std::memcpy(failure.words, words.data(), length);
    failure.words[length] = 0;
}

// Calls what may throw; returns whether it did not.
template <class Work>
bool guarded(Failure& failure, const Work& work) {
    try {
        // Threads of Open3D hand results in as they come, and sums change in their last bits.
        omp_set_num_threads(1);
        // It would write to standard output, which is for results; its errors come as exceptions all the
        // same.
        open3d::utility::SetVerbosityLevel(open3d::utility::VerbosityLevel::Error);
        work();
        return true;
    } catch (const std::exception& error) {
        tell(failure, error.what());
    } catch (...) {
        tell(failure, "something unknown went wrong");
    }
    return false;
}

std::vector<Eigen::Vector3d> triples(const double* numbers, std::size_t count) {
    std::vector<Eigen::Vector3d> all(count);
    for (std::size_t i = 0; i < count; ++i) all[i] = Eigen::Vector3d(numbers + 3 * i);
    return all;
}

geometry::PointCloud taken(const Cloud& cloud) {
    geometry::PointCloud points(triples(cloud.places, cloud.size));
    points.normals_ = triples(cloud.normals, cloud.size);
    return points;
}

struct Owned {
    std::vector<double> corners;
    std::vector<std::int32_t> triangles;
};

bool reconstruct(const Cloud* cloud, int depth, double scale, Mesh* mesh, Failure* failure) {
    return guarded(*failure, [&] {
        const auto [made, densities] = geometry::TriangleMesh::CreateFromPointCloudPoisson(
            taken(*cloud), std::size_t(depth), 0, float(scale), false, 1);
        auto owned = std::make_unique<Owned>();
        for (const Eigen::Vector3d& v : made->vertices_)
            owned->corners.insert(owned->corners.end(), {v.x(), v.y(), v.z()});
        for (const Eigen::Vector3i& t : made->triangles_)
            owned->triangles.insert(owned->triangles.end(), {t.x(), t.y(), t.z()});
        *mesh = {owned->corners.data(), owned->triangles.data(), made->vertices_.size(),
                 made->triangles_.size(), owned.get()};
        owned.release();
    });
}

void release_mesh(Mesh* mesh) {
    delete static_cast<Owned*>(std::exchange(mesh->owner, nullptr));
}

bool closest_points(const Cloud* moved, const Cloud* onto, const ClosestPointSteps* steps,
                    std::size_t step_count, const Asked* asked, double* pose, Failure* failure) {
    return guarded(*failure, [&] {
        const geometry::PointCloud from = taken(*moved), to = taken(*onto);
        Eigen::Matrix4d found = Eigen::Map<const Eigen::Matrix4d>(pose);
        for (std::size_t s = 0; s < step_count; ++s) {
            if (!asked->go_on(asked->who)) throw std::runtime_error("told not to go on");
            const auto kernel = std::make_shared<registration::GMLoss>(steps[s].width * steps[s].width);
            found =
                registration::RegistrationICP(from, to, steps[s].reach, found,
                                              registration::TransformationEstimationPointToPlane(kernel),
                                              registration::ICPConvergenceCriteria(1e-6, 1e-6, steps[s].most))
                    .transformation_;
        }
        Eigen::Map<Eigen::Matrix4d>{pose} = found;
    });
}

constexpr Functions functions{api_version, reconstruct, release_mesh, closest_points};

}  // namespace

}  // namespace evenspit::scan::library

extern "C" __attribute__((visibility("default"))) const evenspit::scan::library::Functions*
evenspit_scan_library() {
    // It would write to standard output, which is for results; its errors come as exceptions all the same.
    open3d::utility::SetVerbosityLevel(open3d::utility::VerbosityLevel::Error);
    return &evenspit::scan::library::functions;
}
