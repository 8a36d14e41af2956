// SPDX-License-Identifier: MIT
// Inside of read_ply(): what stands before the records of a PLY file.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/line_reader.h"
#include "geometry/types.h"

namespace evenspit::mesh_readers::ply {

enum class Type { int8, uint8, int16, uint16, int32, uint32, float32, float64 };

/// Bytes that one takes in a binary file.
std::size_t size_of(Type type);

struct Property {
    std::string_view name;
    Type type;
    std::optional<Type> count_type;  // of a list
};

struct Element {
    std::string_view name;
    std::int64_t count;
    std::vector<Property> properties;

    [[nodiscard]] int find(std::string_view wanted) const {
        for (std::size_t i = 0; i < properties.size(); ++i) {
            if (properties[i].name == wanted) return int(i);
        }
        return -1;
    }
};

enum class Coding { text, little_endian, big_endian };

struct Header {
    Coding coding = Coding::text;
    std::vector<Element> elements;
    std::optional<Mat3> centre_covariance;
    std::vector<std::string> region_names;
    std::optional<double> scale_sigma;
    std::string bird;
};

/// Reads the header; leaves the reader on the line end_header. \throws InputError where it breaks the format
Header read_header(LineReader& text);

}  // namespace evenspit::mesh_readers::ply
