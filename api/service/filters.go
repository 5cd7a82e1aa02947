package service

import "unpick/db"

// The filters of lists: package db says what each lets through.
type (
	ElementFilter  = db.ElementFilter
	FixingFilter   = db.FixingFilter
	HoleFilter     = db.HoleFilter
	RelationFilter = db.RelationFilter
)
