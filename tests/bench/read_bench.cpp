// SPDX-License-Identifier: MIT
// Reading a mesh, its corners welded, against Open3D's readers and VTK's (where its headers are): x_faster is
// taken against the faster of them.
#include <algorithm>
#include <filesystem>
#include <limits>
#include <memory>
#include <open3d/geometry/TriangleMesh.h>
#include <open3d/io/TriangleMeshIO.h>
#include <string>

#include <benchmark/benchmark.h>
#ifdef EVENSPIT_BENCH_VTK
#include <vtkNew.h>
#include <vtkOBJReader.h>
#include <vtkPLYReader.h>
#include <vtkPolyData.h>
#include <vtkSTLReader.h>
#endif

#include "bench_cases.h"
#include "geometry/mesh_io.h"

namespace evenspit {
namespace {

using bench::seconds;

double open3d_s(const std::filesystem::path& path) {
    std::size_t triangles = 0;
    const double took = seconds(
        [&] {
            open3d::geometry::TriangleMesh mesh;
            open3d::io::ReadTriangleMesh(path.string(), mesh);
            // Where each triangle brings its own corners, they are welded as ours are.
            if (path.extension() == ".stl") mesh.RemoveDuplicatedVertices();
            triangles = mesh.triangles_.size();
        },
        2);
    return triangles > 0 ? took : std::numeric_limits<double>::infinity();
}

#ifdef EVENSPIT_BENCH_VTK
template <class Reader>
double vtk_reader_s(const std::filesystem::path& path) {
    vtkIdType triangles = 0;
    const double took = seconds(
        [&] {
            const vtkNew<Reader> reader;
            reader->SetFileName(path.c_str());
            reader->Update();
            triangles = reader->GetOutput()->GetNumberOfCells();
        },
        2);
    return triangles > 0 ? took : std::numeric_limits<double>::infinity();
}

double vtk_s(const std::filesystem::path& path) {
    const auto ending = path.extension();
    if (ending == ".ply") return vtk_reader_s<vtkPLYReader>(path);
    if (ending == ".stl") return vtk_reader_s<vtkSTLReader>(path);
    if (ending == ".obj") return vtk_reader_s<vtkOBJReader>(path);
    return std::numeric_limits<double>::infinity();
}
#endif

void read(benchmark::State& state, const char* ending) {
    const auto path = std::filesystem::temp_directory_path() / (std::string("evenspit-read-bench") + ending);
    write_mesh(path, bench::folded_body(state.range(0)));
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state)
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(read_mesh(path)); }, 1));
    const double open3d = open3d_s(path);
    state.counters["x_open3d"] = least / open3d;
    double fastest = open3d;
#ifdef EVENSPIT_BENCH_VTK
    const double vtk = vtk_s(path);
    if (std::isfinite(vtk)) state.counters["x_vtk"] = least / vtk;
    fastest = std::min(fastest, vtk);
#endif
    state.counters["x_faster"] = least / fastest;
    std::filesystem::remove(path);
}
BENCHMARK_CAPTURE(read, ply, ".ply")->Arg(200'000)->Arg(1'200'000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read, stl, ".stl")->Arg(200'000)->Arg(1'200'000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read, obj, ".obj")->Arg(200'000)->Arg(1'200'000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read, off, ".off")->Arg(200'000)->Arg(1'200'000)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
