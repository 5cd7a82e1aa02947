package recipe

// wallRecipes are the recipes that build walls and what goes on them.
func wallRecipes() []recipe {
	return []recipe{
		warning(newRecipe("stud-wall", buildStudWall), warnStudWall),
		newRecipe("lining", buildLining),
		newRecipe("door-set", buildDoorSet),
		newRecipe("trim", buildTrim),
		newRecipe("insulation", buildInsulation),
		newRecipe("seal", buildSeal),
	}
}
