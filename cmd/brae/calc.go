package main

type calcCommand struct{}

func (calcCommand) Run() error { return nil }
