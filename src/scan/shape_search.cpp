// SPDX-License-Identifier: MIT
#include "scan/shape_search.h"

#include <exception>
#include <tuple>

#include <CGAL/Random.h>
#include <CGAL/Shape_detection/Efficient_RANSAC.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/property_map.h>

namespace evenspit::scan {

namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using Oriented = std::tuple<Kernel::Point_3, Kernel::Vector_3, std::int32_t>;  // its number last
using Traits = CGAL::Shape_detection::Efficient_RANSAC_traits<Kernel, std::vector<Oriented>,
                                                              CGAL::Nth_of_tuple_property_map<0, Oriented>,
                                                              CGAL::Nth_of_tuple_property_map<1, Oriented>>;
using Ransac = CGAL::Shape_detection::Efficient_RANSAC<Traits>;
using Plane = CGAL::Shape_detection::Plane<Traits>;
using Cylinder = CGAL::Shape_detection::Cylinder<Traits>;
using Sphere = CGAL::Shape_detection::Sphere<Traits>;

// Cosine, 32°: normals of a curved wall under noise.
constexpr double normals_agree = 0.85;
constexpr double overlooked = 1e-3;  // chance to miss the largest shape that is left

template <class V>
Vec3 place(const V& v) {
    return {v.x(), v.y(), v.z()};
}

}  // namespace

std::vector<FoundShape> find_shapes(const PointSet& points, const ShapeSearch& search,
                                    const StopControl& control) {
    std::vector<FoundShape> found;
    if (points.size() < search.fewest) return found;
    std::vector<Oriented> oriented;
    oriented.reserve(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 &p = points.positions[i], &n = points.normals[i];
        oriented.emplace_back(Kernel::Point_3(p.x(), p.y(), p.z()), Kernel::Vector_3(n.x(), n.y(), n.z()),
                              std::int32_t(i));
    }
    // It puts the points in another order as it goes, and draws from the thread's own dice, which are put
    // back to where they begin.
    CGAL::get_default_random() = CGAL::Random(1);
    Ransac ransac;
    ransac.set_input(oriented);
    ransac.add_shape_factory<Plane>();
    if (search.round) {
        ransac.add_shape_factory<Cylinder>();
        ransac.add_shape_factory<Sphere>();
    }
    Ransac::Parameters parameters;
    parameters.probability = overlooked;
    parameters.min_points = search.fewest;
    parameters.epsilon = search.reach;
    parameters.cluster_epsilon = search.apart;
    parameters.normal_threshold = normals_agree;
    std::exception_ptr stopped;
    ransac.detect(parameters, [&](double) {
        try {
            control.check();
        } catch (...) {
            stopped = std::current_exception();
        }
        return !stopped;
    });
    if (stopped) std::rethrow_exception(stopped);

    for (const auto& shape : ransac.shapes()) {
        FoundShape one;
        if (const auto* const plane = dynamic_cast<const Plane*>(shape.get())) {
            one.direction = place(plane->plane_normal()).normalized();
            one.point = place(static_cast<Kernel::Plane_3>(*plane).point());
        } else if (const auto* const cylinder = dynamic_cast<const Cylinder*>(shape.get())) {
            one.cylinder = true;
            one.direction = place(cylinder->axis().to_vector()).normalized();
            one.point = place(cylinder->axis().point(0));
            one.radius = cylinder->radius();
        } else {
            continue;
        }
        for (const std::size_t i : shape->indices_of_assigned_points())
            one.points.push_back(std::get<2>(oriented[i]));
        found.push_back(std::move(one));
    }
    return found;
}

}  // namespace evenspit::scan
