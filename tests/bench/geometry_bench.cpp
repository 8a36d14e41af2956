// SPDX-License-Identifier: MIT
// Meshes, their moments and queries. Each counter x_… says how many times as long as the peer or bound it
// names, measured in the same run, a stage takes: below 1 is faster than the peer.
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopoDS_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <filesystem>
#include <gp_Pln.hxx>
#include <limits>

#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/AABB_triangle_primitive.h>
#include <CGAL/Simple_cartesian.h>
#include <benchmark/benchmark.h>

#include "bench_cases.h"
#include "files/whole_file.h"
#include "geometry/bvh.h"
#include "geometry/mesh_io.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"

namespace evenspit {
namespace {

// The fastest kernel CGAL has, without exact predicates.
using Kernel = CGAL::Simple_cartesian<double>;
using Triangles = std::vector<Kernel::Triangle_3>;
using Tree = CGAL::AABB_tree<
    CGAL::AABB_traits<Kernel, CGAL::AABB_triangle_primitive<Kernel, Triangles::const_iterator>>>;

using bench::folded_body;
using bench::seconds;
using bench::shuffled;

// The same sums as volume_moments() without care for rounding.
double plain_moments(const TriangleMesh& mesh) {
    double volume = 0;
    Vec3 first = Vec3::Zero();
    Mat3 second = Mat3::Zero();
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 &a = mesh.corner(triangle, 0), &b = mesh.corner(triangle, 1),
                   &c = mesh.corner(triangle, 2);
        const double d = a.dot(b.cross(c));
        const Vec3 s = a + b + c;
        volume += d;
        first += d * s;
        for (int i = 0; i < 3; ++i) {
            for (int j = i; j < 3; ++j)
                second(i, j) += d * (a[i] * a[j] + b[i] * b[j] + c[i] * c[j] + s[i] * s[j]);
        }
    }
    return volume + first.sum() + second.sum();
}

void moments(benchmark::State& state, bool in_order) {
    const TriangleMesh mesh = in_order ? folded_body(state.range(0)) : shuffled(folded_body(state.range(0)));
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) {
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(volume_moments(mesh)); }, 1));
    }
    state.counters["x_plain_loop"] = least / seconds([&] { benchmark::DoNotOptimize(plain_moments(mesh)); });
}
BENCHMARK_CAPTURE(moments, in_order, true)
    ->Arg(75'000)
    ->Arg(300'000)
    ->Arg(1'200'000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(moments, shuffled, false)->Arg(75'000)->Arg(1'200'000)->Unit(benchmark::kMillisecond);

void moments_against_open_cascade(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    TopoDS_Compound faces;
    TopoDS_Builder builder;
    builder.MakeCompound(faces);
    const auto point = [](const Vec3& p) { return gp_Pnt(p.x(), p.y(), p.z()); };
    for (const Triangle& triangle : mesh.triangles) {
        const Vec3 &a = mesh.corner(triangle, 0), &b = mesh.corner(triangle, 1),
                   &c = mesh.corner(triangle, 2);
        const Vec3 normal = (b - a).cross(c - a);
        const TopoDS_Wire outline = BRepBuilderAPI_MakePolygon(point(a), point(b), point(c), true).Wire();
        builder.Add(faces, BRepBuilderAPI_MakeFace(
                               gp_Pln(point(a), gp_Dir(normal.x(), normal.y(), normal.z())), outline)
                               .Face());
    }
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) {
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(volume_moments(mesh)); }, 1));
    }
    GProp_GProps properties;
    state.counters["x_open_cascade"] =
        least / seconds([&] { BRepGProp::VolumeProperties(faces, properties); }, 1);
}
BENCHMARK(moments_against_open_cascade)->Arg(10'000)->Unit(benchmark::kMillisecond);

void solid_gates(benchmark::State& state) {
    const TriangleMesh mesh = shuffled(folded_body(state.range(0)));
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) {
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(check_solid(mesh)); }, 1));
    }
    state.counters["x_plain_loop"] = least / seconds([&] { benchmark::DoNotOptimize(plain_moments(mesh)); });
}
BENCHMARK(solid_gates)->Arg(75'000)->Arg(200'000)->Arg(1'200'000)->Unit(benchmark::kMillisecond);

// A mesh with CGAL's tree over it.
struct Peers {
    explicit Peers(std::int64_t n) : queries(folded_body(n)) {
        const TriangleMesh& mesh = queries.mesh();
        for (const Triangle& t : mesh.triangles) {
            triangles.emplace_back(point(mesh.corner(t, 0)), point(mesh.corner(t, 1)),
                                   point(mesh.corner(t, 2)));
        }
        tree.insert(triangles.begin(), triangles.end());
        tree.build();
    }
    static Kernel::Point_3 point(const Vec3& p) { return {p.x(), p.y(), p.z()}; }

    SolidQueries queries;
    Triangles triangles;
    Tree tree;
    std::vector<Vec3> points = bench::places_round_it(10'000);
};

void build_tree(benchmark::State& state) {
    const Peers peers(state.range(0));
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) {
        least = std::min(least,
                         seconds([&] { benchmark::DoNotOptimize(SolidQueries(peers.queries.mesh())); }, 1));
    }
    state.counters["x_cgal"] = least / seconds([&] {
                                   Tree tree(peers.triangles.begin(), peers.triangles.end());
                                   tree.build();
                               });
}
BENCHMARK(build_tree)->Arg(75'000)->Arg(300'000)->Unit(benchmark::kMillisecond);

// Runs ours for each neighbouring pair of points, and CGAL's as often.
template <class Ours, class Cgal>
void compare_queries(benchmark::State& state, Ours ours, Cgal cgal) {
    const Peers peers(state.range(0));
    const auto all = [&](auto& query) {
        for (std::size_t i = 0; i + 1 < peers.points.size(); ++i)
            query(peers, peers.points[i], peers.points[i + 1]);
    };
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) least = std::min(least, seconds([&] { all(ours); }, 1));
    state.counters["x_cgal"] = least / seconds([&] { all(cgal); });
    state.counters["queries_per_s"] = double(peers.points.size() - 1) / least;
}

void segments(benchmark::State& state) {
    compare_queries(
        state,
        [](const Peers& peers, const Vec3& a, const Vec3& b) {
            benchmark::DoNotOptimize(peers.queries.inside(a, b));
        },
        [](const Peers& peers, const Vec3& a, const Vec3& b) {
            std::vector<Tree::Intersection_and_primitive_id<Kernel::Segment_3>::Type> met;
            peers.tree.all_intersections(Kernel::Segment_3(Peers::point(a), Peers::point(b)),
                                         std::back_inserter(met));
            benchmark::DoNotOptimize(met);
        });
}
BENCHMARK(segments)->Arg(75'000)->Arg(300'000)->Unit(benchmark::kMillisecond);

void contained(benchmark::State& state) {
    compare_queries(
        state,
        [](const Peers& peers, const Vec3& a, const Vec3&) {
            benchmark::DoNotOptimize(peers.queries.contains(a));
        },
        [](const Peers& peers, const Vec3& a, const Vec3&) {
            const Kernel::Ray_3 up(Peers::point(a), Kernel::Direction_3(0, 0, 1));
            benchmark::DoNotOptimize(peers.tree.number_of_intersected_primitives(up));
        });
}
BENCHMARK(contained)->Arg(75'000)->Unit(benchmark::kMillisecond);

void nearest(benchmark::State& state) {
    compare_queries(
        state,
        [](const Peers& peers, const Vec3& a, const Vec3&) {
            benchmark::DoNotOptimize(peers.queries.closest(a));
        },
        [](const Peers& peers, const Vec3& a, const Vec3&) {
            benchmark::DoNotOptimize(peers.tree.closest_point(Peers::point(a)));
        });
}
BENCHMARK(nearest)->Arg(75'000)->Unit(benchmark::kMillisecond);

// Reading a mesh against reading its bytes.
void read(benchmark::State& state, const char* ending) {
    const auto path = std::filesystem::temp_directory_path() / (std::string("evenspit-bench") + ending);
    write_mesh(path, folded_body(state.range(0)));
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) {
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(read_mesh(path)); }, 1));
    }
    state.counters["x_bytes_alone"] =
        least / seconds([&] { benchmark::DoNotOptimize(read_whole_file(path)); });
    std::filesystem::remove(path);
}
BENCHMARK_CAPTURE(read, ply, ".ply")->Arg(200'000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read, stl, ".stl")->Arg(200'000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read, obj, ".obj")->Arg(200'000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read, off, ".off")->Arg(200'000)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
