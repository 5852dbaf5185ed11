package main

type demoCommand struct{}

func (demoCommand) Run() error { return nil }
