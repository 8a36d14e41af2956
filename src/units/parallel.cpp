// SPDX-License-Identifier: MIT
#include "units/parallel.h"

#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/partitioner.h>

namespace evenspit {

void run_pieces(std::size_t pieces, void (*run)(const void* work, std::size_t p), const void* work) {
    // Pieces are what is worth a thread's trouble: none is joined to the next.
    tbb::parallel_for(
        std::size_t{0}, pieces, [run, work](std::size_t p) { run(work, p); }, tbb::simple_partitioner());
}

}  // namespace evenspit
