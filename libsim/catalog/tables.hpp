// One reader a table. Each throws InputError with file, line and column for a damaged table.
#pragma once
#include <filesystem>
#include <vector>

#include <lowspot/catalog/catalog.hpp>

namespace lowspot::catalog {

// What is there already.
std::vector<Cover> read_covers(const std::filesystem::path& file);
std::vector<SoilTexture> read_soils(const std::filesystem::path& file);
std::vector<Plant> read_plants(const std::filesystem::path& file);
std::vector<ClimateMonth> read_climate(const std::filesystem::path& file);

// What is put into the ground.
std::vector<Pipe> read_pipes(const std::filesystem::path& file);
std::vector<Stone> read_stone(const std::filesystem::path& file);
std::vector<Fabric> read_fabric(const std::filesystem::path& file);
std::vector<Cap> read_caps(const std::filesystem::path& file);

// What the works are held against.
std::vector<PracticeLimit> read_limits(const std::filesystem::path& file);

} // namespace lowspot::catalog
