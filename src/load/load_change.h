// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "load/assembly.h"

namespace evenspit {

/// What may be done about a load beyond moving what sits on the rod. Things are counted in the load before
/// any change.
struct LoadChange {
    enum class Kind {
        tie,       ///< an item's limbs, in the way that is usual
        rod,       ///< another rod of the model library
        leave_out  ///< an item and the forks that hold it stay off the rod
    };
    Kind kind = Kind::tie;
    std::size_t item = 0;              ///< of tie and leave_out
    std::vector<std::size_t> forks{};  ///< of leave_out; brackets and baskets among them, after all forks
    std::string rod{};                 ///< name of the model

    bool operator==(const LoadChange&) const = default;
};

/// The text of a load file with such changes made; comments and order are kept, and what is left out stays as
/// a comment.
///
/// \param file that the text stands in, as messages call it
/// \param models the model library
/// \throws InputError if the text is not TOML or there is no such rod
std::string changed_load(const std::string& text, const std::string& file,
                         const std::vector<LoadChange>& changes, const std::filesystem::path& models);

/// The text of the load with every item so many times as heavy: a shape grows with its mass and what was
/// taped of it, a scan is scaled; loose pieces are more of them.
///
/// \pre `assembly` was read from `text`
std::string heavier_load(const std::string& text, const Assembly& assembly, double factor);

/// A rod of the model library.
struct RodModel {
    std::string name;
    Rod rod;
};

/// All of them, by name; those that cannot be read are passed over.
///
/// \param temperature_k at which they would be used
std::vector<RodModel> rod_models(const std::filesystem::path& models, double temperature_k);

}  // namespace evenspit
